package observation

import (
	"context"
	"errors"
	"math/rand/v2"
	"testing"

	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/model/measure/diagnosis"
	"evenbass/optimize/testroom"
	"evenbass/optimize/uncertainty"
)

// TestNewPresent checks that the measurements picked show the room as it stands: the main seat, the
// present treatments, the last of each speaker. The prediction is of the same room.
func TestNewPresent(t *testing.T) {
	t.Parallel()
	p := testroom.Read(t, "spare-room")
	trial := uncertainty.Trials(1, 7)[0]
	list, err := invent(context.Background(), unlike(p, trial), p, trial, rand.New(rand.NewPCG(1, 1)))
	if err != nil {
		t.Fatal(err)
	}
	as := func(m *measure.Measurement, name string, change func(*measure.Measurement)) *measure.Measurement {
		out := *m
		out.Name = name
		if change != nil {
			change(&out)
		}
		return &out
	}
	left, right := list[0], list[1]
	present, warnings, err := NewPresent(context.Background(), p, []*measure.Measurement{
		as(left, "first", nil), as(left, "last", nil),
		as(left, "treated", func(m *measure.Measurement) { m.State = []string{"a layer"} }),
		as(left, "nobody knows", func(m *measure.Measurement) { m.StateKnown = false }),
		as(right, "elsewhere", func(m *measure.Measurement) { m.Seat = "sofa" }),
		as(right, "right", nil),
	}, nil)
	if err != nil || len(warnings) > 0 {
		t.Fatal(err, warnings)
	}
	if len(present.Speakers) != 2 || present.Speakers[0].Measured.Measurement.Name != "last" || present.Speakers[1].Speaker != model.RightSpeaker {
		t.Fatalf("%+v", present.Speakers)
	}
	for _, s := range present.Speakers {
		if c := s.Comparison; c == nil || c.Before.Measurement != nil || c.After.Measurement != s.Measured.Measurement || c.Typical > 4 {
			t.Errorf("%v is held against %+v", s.Speaker, c)
		}
	}
	if len(present.Faults) == 0 || present.Next.Step == diagnosis.MeasureOther || present.Prediction.Engine.Kind != model.ModeEngine {
		t.Errorf("%d faults, next %v, engine %v", len(present.Faults), present.Next.Step, present.Prediction.Engine.Kind)
	}
	none, warnings, err := NewPresent(context.Background(), p, []*measure.Measurement{as(left, "treated", func(m *measure.Measurement) { m.State = []string{"a layer"} })}, nil)
	if none != nil || len(warnings) != 1 || err != nil {
		t.Errorf("measurements of another state: %v, %v, %v", none, warnings, err)
	}
	adrift := *p
	adrift.Speakers.Placed = false
	if alone, warnings, err := NewPresent(context.Background(), &adrift, list, nil); err != nil || len(warnings) != 1 || alone.Speakers[2].Comparison != nil || len(alone.Faults) == 0 {
		t.Errorf("without a place for the speakers: %v, %v", warnings, err)
	}
}

// Furniture stands in the room whatever the state of a measurement, and is no part of that state.
func TestFurnitureStandsInEveryState(t *testing.T) {
	p := testroom.Read(t, "furnished-room")
	if got := inState(p, nil, true).Room.Treatments; len(got) != 2 || !got[0].Furnished() || !got[1].Furnished() {
		t.Errorf("the bare room holds %v", got)
	}
	m := &measure.Measurement{Seat: p.Seats[0].Name, Speaker: model.LeftSpeaker, StateKnown: true}
	if got := presentOf(p, []*measure.Measurement{m}); len(got) != 1 {
		t.Errorf("a measurement of the bare room does not show it as it stands: %v", got)
	}
	if _, _, err := inventedStates(p); !errors.Is(err, ErrNoStates) {
		t.Errorf("furniture alone is taken for a treatment: %v", err)
	}
}

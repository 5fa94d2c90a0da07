package observation

import (
	"context"
	"errors"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"strings"
	"testing"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/engines"
	"evenbass/optimize/testroom"
	"evenbass/optimize/uncertainty"
)

// TestInvent checks that an invented measurement of a plain room is near the prediction but differs
// from it, says that it is invented, and follows from its seed.
func TestInvent(t *testing.T) {
	t.Parallel()
	p := testroom.Read(t, "spare-room")
	if _, err := Invent(context.Background(), p, 1, nil); !errors.Is(err, ErrNoStates) {
		t.Errorf("a room with one state: %v", err)
	}
	now, ok := p.Now()
	if !ok {
		t.Fatal("the room has no places")
	}
	for _, r := range []model.RollOff{{Limit: 45}, {Limit: 60, Alignment: model.Ported}} {
		for _, f := range []float64{20, 45, 60, 200} {
			if got, want := model.LevelOf(cmplx.Abs(rollOff(f, r))), r.Level(f); math.Abs(float64(got-want)) > 1e-9 {
				t.Errorf("%v at %g Hz: %.3f dB, want %.3f", r, f, got, want)
			}
		}
	}
	p.Speakers.LowLimit = 0 // the field below knows of none
	trial := uncertainty.Trials(1, 7)[0]
	measured := func(seed uint64) []model.Level {
		list, err := invent(context.Background(), unlike(p, trial), p, trial, rand.New(rand.NewPCG(seed, 1)))
		if err != nil || len(list) != 3 {
			t.Fatalf("%d measurements, %v", len(list), err)
		}
		left := list[0]
		if !strings.Contains(left.Notes[0], "nobody measured it. Its response is computed ("+string(model.ModeEngine)+")") || left.Date != "never" || !left.StateKnown || left.Speaker != model.LeftSpeaker {
			t.Errorf("%+v does not say what it is", left)
		}
		h, err := left.Transfer(model.DefaultGrid(), left.Air())
		if err != nil {
			t.Fatal(err)
		}
		return response.NewReader(model.DefaultGrid(), left.Air(), p.Goal).Smooth(h)
	}
	a, b, again := measured(1), measured(2), measured(1)
	engine, err := engines.ModalSolver(p, model.DefaultGrid(), nil)
	if err != nil {
		t.Fatal(err)
	}
	field, err := engine.Field(context.Background(), now.Seat)
	if err != nil {
		t.Fatal(err)
	}
	predicted := response.NewReader(model.DefaultGrid(), engine.Air(), p.Goal).Smooth(field.Transfer(nil, now.Left))
	var off, noise float64
	for i := range a {
		if a[i] != again[i] {
			t.Fatal("the same seed gives something else")
		}
		off += math.Pow(float64(a[i]-predicted[i]), 2) / float64(len(a))
		noise += math.Pow(float64(a[i]-b[i]), 2) / float64(len(a))
	}
	if off, noise = math.Sqrt(off), math.Sqrt(noise); off < 0.2 || off > 6 || noise == 0 {
		t.Errorf("%.2f dB rms from the prediction, %.2f dB from another seed", off, noise)
	}
	t.Logf("%.2f dB rms from the prediction, %.2f dB from another seed", off, noise)
}

package calibration

import (
	"context"
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/measure"
)

// stands are places to choose from: two seats, and some of the floor.
func stands(p *model.Project) []Place {
	return []Place{
		{p.Seats[0].Name, p.Seats[0].At}, {p.Seats[1].Name, p.Seats[1].At},
		{At: r3.Vec{X: 0.9, Y: 0.6, Z: 1.2}}, {At: r3.Vec{X: 2.2, Y: 0.6, Z: 1.2}}, {At: r3.Vec{X: 2.3, Y: 1.5, Z: 1.2}},
	}
}

// A measurement gains what [Next] expects of it. The room is fitted again with a measurement at the
// best place and at the worst one, and each fit gives its own ranges.
func TestNext(t *testing.T) {
	t.Parallel()
	p := basement()
	p.Seats = p.Seats[:2]
	tr := newTruth(t, p, 5)
	first := []*measure.Measurement{tr.measured(t, p.Seats[0], model.LeftSpeaker, false)}
	settings := Settings{Places: stands(p)}
	r, err := Fit(context.Background(), p, first, settings)
	if err != nil {
		t.Fatal(err)
	}
	for i, g := range r.Next {
		t.Logf("%v %v: %.2f -> %.2f dB", g.Place, g.Speakers, g.Before, g.After)
		if g.Before != r.Next[0].Before || !(g.After < g.Before) || i > 0 && g.After < r.Next[i-1].After {
			t.Errorf("place %d: %+v", i, g)
		}
		if chair := g.Place.At == p.Seats[0].At; chair != (len(g.Speakers) == 1) || chair && g.Speakers[0] != model.RightSpeaker {
			t.Errorf("of %v, %v is to be measured", g.Place, g.Speakers)
		}
	}
	if len(r.Next) != 4 {
		t.Errorf("%d places are left; all but the one 25 cm from the microphone should be", len(r.Next))
	}
	var are []float64
	for _, g := range []Gain{r.Next[0], r.Next[len(r.Next)-1]} {
		list := slices.Clone(first)
		for _, s := range g.Speakers {
			list = append(list, tr.measured(t, model.Seat{Name: g.Place.Seat, At: g.Place.At}, s, false))
		}
		again, err := Fit(context.Background(), p, list, settings)
		if err != nil {
			t.Fatal(err)
		}
		is := float64(again.Next[0].Before)
		t.Logf("at %v: to be %.2f dB, is %.2f dB", g.Place.At, g.After, is)
		if math.Abs(is/float64(g.After)-1) > 0.15 {
			t.Errorf("at %v the ranges were to be %.2f dB wide, and are %.2f", g.Place.At, g.After, is)
		}
		are = append(are, is)
	}
	if are[0] >= are[1] {
		t.Errorf("the best place leaves %.2f dB, the worst %.2f", are[0], are[1])
	}
	// The same order without a fit, since the choice needs no data.
	list, err := Next(context.Background(), p, first, settings)
	if err != nil {
		t.Fatal(err)
	}
	if len(list) != len(r.Next) || list[0].Place != r.Next[0].Place || list[len(list)-1].Place.At != r.Next[len(list)-1].Place.At {
		t.Errorf("without a fit: %+v", list)
	}
}

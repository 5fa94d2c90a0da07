package optimize

import (
	"context"
	"math"
	"slices"
	"testing"

	"evenbass/model"
	"evenbass/optimize/score"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// stretch is a way through a room without rules but the walls', on which the seat
// goes 1 m back and the speakers 0.5 m back and 0.2 m to either side.
func stretch() (p *model.Project, from, to model.Layout) {
	p = studio()
	p.Speakers.Zones, p.Seats[0].Zones, p.Listening = nil, nil, model.Listening{}
	from = model.Layout{Left: r3.Vec{X: 0.5, Y: 1, Z: 1}, Right: r3.Vec{X: 0.5, Y: 2.1, Z: 1}, Seat: r3.Vec{X: 2, Y: 1.55, Z: 1.2}, AxisHeight: 1.12}
	to = from
	to.Seat.X, to.Left.X, to.Right.X, to.Left.Y, to.Right.Y = 3, 1, 1, 0.8, 2.3
	return p, from, to
}

// scored returns the steps of a stretch whose spreads are told by hand.
func scored(t *testing.T, p *model.Project, from, to model.Layout, spread func(seat, along, across bool) model.Level) []Step {
	t.Helper()
	steps, err := stepsTo(t.Context(), p, func(_ context.Context, l model.Layout) (model.Level, error) {
		return spread(l.Seat.X == to.Seat.X, l.Left.X == to.Left.X, l.Left.Y == to.Left.Y), nil
	}, from, to)
	if err != nil {
		t.Fatal(err)
	}
	return steps
}

// moves reports whether a step moves these parts and nothing else.
func moves(s Step, parts ...Part) bool { return slices.Equal(s.Parts, parts) }

// Where every move gains by itself, the one that gains most comes first, and the
// one that gains 0.2 dB is left out.
func TestStepsMostFirst(t *testing.T) {
	p, from, to := stretch()
	steps := scored(t, p, from, to, func(seat, along, across bool) model.Level {
		s := model.Level(10)
		for _, g := range []struct {
			done bool
			gain model.Level
		}{{seat, 1}, {along, 3}, {across, 0.2}} {
			if g.done {
				s -= g.gain
			}
		}
		return s
	})
	if len(steps) != 2 || !moves(steps[0], SpeakersAlong) || !moves(steps[1], SeatAlong) {
		t.Fatalf("%+v", steps)
	}
	if steps[0].Before != 10 || steps[0].After != 7 || steps[1].Before != 7 || steps[1].After != 6 {
		t.Errorf("spreads %+v", steps)
	}
	want := from
	want.Left.X, want.Right.X = 1, 1
	if steps[0].From != from || steps[0].To != want || steps[1].From != want {
		t.Errorf("layouts %+v", steps)
	}
}

// Two moves that only gain together are one step, although taking the move that gains at once
// would be tempting: 10 dB, then 9.5 by across alone but 4 by seat and along.
func TestStepsTogether(t *testing.T) {
	p, from, to := stretch()
	steps := scored(t, p, from, to, func(seat, along, across bool) model.Level {
		switch {
		case seat && along:
			return 4
		case across && !seat && !along:
			return 9.5
		case seat && !along:
			return 14 // a step that makes it worse is never taken alone
		}
		return 10
	})
	if len(steps) != 1 || !moves(steps[0], SeatAlong, SpeakersAlong) || steps[0].After != 4 {
		t.Errorf("%+v", steps)
	}
}

// What moves by less than 3 cm stays where it is, in the layout and in its figures, unless that costs half a
// decibel or breaks a rule. Then it comes with another part.
func TestStepsAreNotTiny(t *testing.T) {
	for _, c := range []struct {
		name   string
		across model.Level // what moving the speakers across gains
		apart  model.Range
		parts  []Part
		after  model.Level
	}{
		{"too little", 0.4, model.Range{}, []Part{SeatAlong}, 7},
		{"much", 2, model.Range{}, []Part{SeatAlong, SpeakersAcross}, 5},
		{"a rule", 0, model.Range{Min: 1.13, Max: 3}, []Part{SeatAlong, SpeakersAcross}, 7},
	} {
		p, from, to := stretch()
		p.Speakers.Apart = c.apart
		to.Left.X, to.Right.X = from.Left.X, from.Right.X
		to.Left.Y, to.Right.Y = from.Left.Y-0.02, from.Right.Y+0.02
		steps := scored(t, p, from, to, func(seat, along, across bool) model.Level {
			s := model.Level(10)
			if seat {
				s -= 3
			}
			if across {
				s -= c.across
			}
			return s
		})
		if len(steps) != 1 || !moves(steps[0], c.parts...) || steps[0].After != c.after || steps[0].Breaks {
			t.Fatalf("%s: %+v", c.name, steps)
		}
		if moved := steps[0].To.Left != from.Left; moved != slices.Contains(c.parts, SpeakersAcross) {
			t.Errorf("%s: the left speaker moves: %v", c.name, moved)
		}
	}
}

// Nothing that pays gives no steps, and so does a way from a place to itself.
func TestStepsNone(t *testing.T) {
	p, from, to := stretch()
	flat := func(bool, bool, bool) model.Level { return 7 }
	if steps := scored(t, p, from, to, flat); steps != nil {
		t.Errorf("a way without gain: %+v", steps)
	}
	if steps := scored(t, p, from, from, flat); steps != nil {
		t.Errorf("no way: %+v", steps)
	}
}

// A move that would break a rule comes together with the one that clears the way; a start that breaks rules is left even without gain.
func TestStepsKeepRules(t *testing.T) {
	p, from, to := stretch()
	p.Listening.Distance = model.Range{Min: 1.1, Max: 2.3} // the seat alone would be 2.56 m away
	p.Listening.Angle = model.Range{}
	steps := scored(t, p, from, to, func(seat, along, across bool) model.Level {
		if seat {
			return 4
		}
		return 10
	})
	if len(steps) != 1 || !moves(steps[0], SeatAlong, SpeakersAlong) {
		t.Fatalf("%+v", steps)
	}
	for _, s := range steps {
		if s.Breaks || p.Violation(s.To) > 0 {
			t.Errorf("a rule is broken on the way: %+v", s)
		}
	}
	p, from, to = stretch()
	p.Speakers.Zones = []model.Zone{{X: model.Range{Min: 0.9, Max: 1.1}}}
	steps = scored(t, p, from, to, func(bool, bool, bool) model.Level { return 7 })
	if len(steps) != 1 || !moves(steps[0], SpeakersAlong) {
		t.Errorf("out of a place that breaks a rule: %+v", steps)
	}
}

// Whatever the spreads of the mixes, every step gains what is worth it, begins where the last one
// ended, and the way ends within the least gain of the best mix.
func TestStepsAlwaysGain(t *testing.T) {
	p, from, to := stretch()
	to.Seat.Y, to.AxisHeight, to.Left.Z, to.Right.Z = 1.6, 1.3, 1.18, 1.18
	rapid.Check(t, func(t *rapid.T) {
		w, err := newRoute(context.Background(), p, func(context.Context, model.Layout) (model.Level, error) { return 0, nil }, from, to)
		if err != nil || len(w.layouts) != 32 {
			t.Fatalf("%d mixes, error %v", len(w.layouts), err)
		}
		best := model.Level(math.Inf(1))
		for i := range w.spreads {
			w.spreads[i] = model.Level(rapid.Float64Range(5, 15).Draw(t, "spread"))
			best = min(best, w.spreads[i])
		}
		at, spread := from, w.spreads[0]
		for _, s := range w.steps() {
			if s.From != at || s.Before != spread || s.Before-s.After < LeastGain {
				t.Fatalf("from %v dB, the step %+v", spread, s)
			}
			at, spread = s.To, s.After
		}
		if spread >= best+LeastGain {
			t.Fatalf("the way ends at %v dB, the best is %v", spread, best)
		}
	})
}

// In a search the steps hang together, begin at the present layout with its
// spread, and gain what they say by the engine itself.
func TestPlaceSteps(t *testing.T) {
	t.Parallel()
	p := small()
	p.Speakers.Placed, p.Seats[0].Placed = true, true
	p.Speakers.Left, p.Speakers.Right = r3.Vec{X: 0.6, Y: 1.2, Z: 0.98}, r3.Vec{X: 0.6, Y: 1.9, Z: 0.98}
	p.Seats[0].At = r3.Vec{X: 3.0, Y: 1.55, Z: 1.2}
	r := place(t, p, brief)
	if len(r.Steps) == 0 || r.Steps[0].From != r.Now.Layout {
		t.Fatalf("steps %+v", r.Steps)
	}
	if d := r.Steps[0].Before - r.Now.Judgement.Spread(); math.Abs(float64(d)) > 1e-6 {
		t.Errorf("the first step begins at %v, now is %v", r.Steps[0].Before, r.Now.Judgement.Spread())
	}
	for i, s := range r.Steps {
		if i > 0 && (s.From != r.Steps[i-1].To || s.Before != r.Steps[i-1].After) {
			t.Errorf("step %d does not begin where the one before ends", i)
		}
		c, err := score.Evaluate(t.Context(), p, newModal(p.Room.Size), s.To, brief.Displacement)
		if err != nil || math.Abs(float64(c.Judgement.Spread()-s.After)) > 1e-6 {
			t.Errorf("step %d ends at %v, the engine says %v (%v)", i, s.After, c.Judgement.Spread(), err)
		}
	}
	if last := r.Steps[len(r.Steps)-1]; last.Breaks || last.After > r.Candidates[0].Judgement.Spread()+LeastGain {
		t.Errorf("the way ends at %+v", last)
	}
}

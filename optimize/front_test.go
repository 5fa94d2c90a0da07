package optimize

import (
	"context"
	"math"
	"slices"
	"testing"

	"evenbass/model"
	"evenbass/optimize/score"
	"evenbass/optimize/table"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// drawBalances draws layouts with what they give the seats, in the order in which
// undominated wants them. Whole decibels make ties.
func drawBalances(t *rapid.T) []score.Weighed {
	all := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) score.Weighed {
		return score.Weighed{Layout: model.Layout{}, Balance: score.Balance{Main: float64(rapid.IntRange(5, 20).Draw(t, "main")), Rest: float64(rapid.IntRange(5, 20).Draw(t, "rest"))}}
	}), 1, 60).Draw(t, "all")
	for i := range all {
		all[i].Layout.Seat.X = float64(i)
	}
	w := score.NewWeighing(studio(), nil, nil)
	w.Remember(all)
	return score.Balances(w)
}

// atLeast reports whether a is as good as b for both.
func atLeast(b, o score.Balance) bool { return b.Main <= o.Main && b.Rest <= o.Rest }

// A Pareto set by its definition: no member is as good as or better than another for
// both, and whatever is left out has a member that is.
func TestUndominatedIsThePareto(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		all := drawBalances(t)
		front := undominated(all)
		for i, a := range front {
			for j, b := range front {
				if i != j && atLeast(a.Balance, b.Balance) {
					t.Fatalf("%v makes %v needless", a.Balance, b.Balance)
				}
			}
		}
		for _, w := range all {
			if !slices.ContainsFunc(front, func(f score.Weighed) bool { return atLeast(f.Balance, w.Balance) }) {
				t.Fatalf("%v is left out and nothing in the front is as good: %v", w.Balance, front)
			}
		}
	})
}

// A thinned front is part of the whole one, in order, with both ends.
func TestThinKeepsTheEnds(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		front := undominated(drawBalances(t))
		n := rapid.IntRange(2, 9).Draw(t, "n")
		offered := []score.Weighed{front[len(front)/2], {Layout: model.Layout{AxisHeight: 9}}}
		few := thin(front, n, offered)
		if len(few) != min(max(n, min(3, len(front))), len(front)) {
			t.Fatalf("%d of %d points for %d", len(few), len(front), n)
		}
		if few[0] != front[0] || few[len(few)-1] != front[len(front)-1] {
			t.Fatal("an end is gone")
		}
		if !slices.Contains(few, front[len(front)/2]) {
			t.Fatal("the layout that is offered is gone")
		}
		at := -1
		for _, f := range few {
			next := slices.Index(front, f)
			if next <= at {
				t.Fatal("a point is strange, twice there or out of order")
			}
			at = next
		}
	})
}

// What is left of a front has its ends and what is offered, in order; anything else is some
// way from what is left beside it, and what is left out is not.
func TestSpacedLeavesOutWhatIsNearlyEqual(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		front := []score.Weighed{{Balance: score.Balance{Main: 8, Rest: 30}}}
		for n := rapid.IntRange(0, 20).Draw(t, "more"); n > 0; n-- {
			w := front[len(front)-1]
			w.Layout.Seat.X++
			w.Main += rapid.Float64Range(0.01, 0.3).Draw(t, "worse")
			w.Rest -= rapid.Float64Range(0.01, 0.3).Draw(t, "better")
			front = append(front, w)
		}
		offered := []score.Weighed{front[len(front)/2]}
		kept := spaced(front, offered)
		if kept[0] != front[0] || kept[len(kept)-1] != front[len(front)-1] || !slices.Contains(kept, offered[0]) {
			t.Fatalf("%v of %v", kept, front)
		}
		needed := func(w score.Weighed) bool { return w == front[0] || w == front[len(front)-1] || w == offered[0] }
		for i, w := range kept[1:] {
			if d := w.Away(kept[i].Balance); d < nearlyEqual && !(needed(w) && needed(kept[i])) {
				t.Fatalf("points %v dB apart: %v", d, kept)
			}
		}
		for _, w := range front {
			if !slices.Contains(kept, w) && !slices.ContainsFunc(kept, func(k score.Weighed) bool { return w.Away(k.Balance) < nearlyEqual }) {
				t.Fatalf("%v is left out of %v", w, kept)
			}
		}
	})
}

// A sofa at the back wall: the front is legal, each of its points is beaten by no
// other, by no candidate and by no layout out of a thousand others; its figures are
// what the engine gives.
func TestFrontOfASofaAtTheBackWall(t *testing.T) {
	t.Parallel()
	p := sofaRoom(0.5)
	r := place(t, p, brief)
	if len(r.Front) < 3 {
		t.Fatalf("the front has only %d points", len(r.Front))
	}
	e := newModal(p.Room.Size)
	for i, f := range r.Front {
		if v := p.Violation(f.Layout); v != 0 {
			t.Errorf("point %d breaks rules by %g m", i, v)
		}
		if i > 0 && !(f.Main > r.Front[i-1].Main && f.Rest < r.Front[i-1].Rest) {
			t.Errorf("point %d is not a trade: %v after %v", i, f, r.Front[i-1])
		}
		c, err := score.Evaluate(t.Context(), p, e, f.Layout, brief.Displacement)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(float64(c.Robust-f.Main)) > 1e-9 || math.Abs(float64(c.Seats[1].Counted-f.Rest)) > 1e-9 {
			t.Errorf("point %d has %.3f and %.3f dB, the engine gives %.3f and %.3f", i, f.Main, f.Rest, c.Robust, c.Seats[1].Counted)
		}
	}
	if best := r.Candidates[0]; best.Robust < r.Front[0].Main-table.Accuracy {
		t.Errorf("layout 1 has %.2f dB at the chair, the front begins with %.2f", best.Robust, r.Front[0].Main)
	}
}

// No legal layout of a coarse lattice over the zones beats a point of the front at
// both seats by more than the table's accuracy.
func TestFrontAgainstLattice(t *testing.T) {
	t.Parallel()
	p := sofaRoom(1)
	r := place(t, p, brief)
	e := newModal(p.Room.Size)
	s := score.NewScorer(e, p, 0.05)
	sofa := score.SeatScorers(p, e)[0]
	looked := 0
	for x := 0.4; x <= 0.8; x += 0.1 {
		for half := 0.4; half <= 1.1; half += 0.1 {
			for seat := 1.5; seat <= 2.1; seat += 0.1 {
				l := model.Layout{Left: r3.Vec{X: x, Y: 1.55 - half, Z: 0.98}, Right: r3.Vec{X: x, Y: 1.55 + half, Z: 0.98}, Seat: r3.Vec{X: seat, Y: 1.55, Z: 1.2}, AxisHeight: 1.1}
				if p.Violation(l) > 0 {
					continue
				}
				looked++
				main, err := s.Robust(t.Context(), l)
				if err != nil {
					t.Fatal(err)
				}
				rest, err := sofa.Counted(t.Context(), l)
				if err != nil {
					t.Fatal(err)
				}
				for _, f := range r.Front {
					if main < f.Main-2*table.Accuracy && rest < f.Rest-2*table.Accuracy {
						t.Errorf("%.2f and %.2f dB beat the point %.2f and %.2f of the front: %+v", main, rest, f.Main, f.Rest, l)
					}
				}
			}
		}
	}
	if looked < 20 {
		t.Fatalf("only %d legal layouts on the lattice", looked)
	}
}

// A seat without weight is reported and changes nothing else.
func TestSeatWithoutWeight(t *testing.T) {
	t.Parallel()
	alone, more := place(t, small(), brief), place(t, sofaRoom(0), brief)
	if more.Front != nil {
		t.Error("a front against a seat that does not count")
	}
	for i, c := range more.Candidates {
		if c.Layout != alone.Candidates[i].Layout {
			t.Errorf("layout %d differs", i+1)
		}
		if len(c.Seats) != 2 || c.Seats[1].Weight != 0 || c.Seats[1].Spread <= 0 || c.Score != c.Robust {
			t.Errorf("layout %d: %+v, score %v of %v", i+1, c.Seats, c.Score, c.Robust)
		}
	}
}

// The more a sofa weighs the better it gets, and the score is the weighted sum.
func TestWeightMovesTheResult(t *testing.T) {
	t.Parallel()
	light, heavy := place(t, sofaRoom(0.05), brief).Candidates[0], place(t, sofaRoom(20), brief).Candidates[0]
	if !(heavy.Seats[1].Counted < light.Seats[1].Counted-0.3) || !(heavy.Robust > light.Robust) {
		t.Errorf("the sofa gets %.2f dB with little weight and %.2f with much; the chair %.2f and %.2f",
			light.Seats[1].Counted, heavy.Seats[1].Counted, light.Robust, heavy.Robust)
	}
	want := (light.Robust + 0.05*light.Seats[1].Counted) / 1.05
	if math.Abs(float64(light.Score-want)) > 1e-9 {
		t.Errorf("score %.4f, want %.4f", light.Score, want)
	}
}

// Where the other seat is the main seat once more, both hear the same.
func TestSameSeatTwice(t *testing.T) {
	t.Parallel()
	p := small()
	l := place(t, p, brief).Candidates[0].Layout
	p.Seats[0].Weight = 1
	p.Seats = append(p.Seats, model.Seat{Placed: true, At: l.Seat, Weight: 1})
	c, err := score.Evaluate(t.Context(), p, newModal(p.Room.Size), l, brief.Displacement)
	if err != nil {
		t.Fatal(err)
	}
	if c.Between > 1e-9 || math.Abs(float64(c.Seats[1].Spread-c.Judgement.Spread())) > 1e-9 || c.Seats[1].Name != "seat 2" {
		t.Errorf("seats differ by %g dB, %+v", c.Between, c.Seats)
	}
}

// A seat that stands nowhere yet is judged in the middle of where it may be.
func TestSeatPlace(t *testing.T) {
	t.Parallel()
	p := small()
	zone := model.Zone{X: model.Range{Min: 3, Max: 4}}
	p.Seats = append(p.Seats, model.Seat{Height: 1, Zones: []model.Zone{zone}})
	if at := score.SeatPlace(p, len(p.Seats)-1, model.Layout{}); at != (r3.Vec{X: 3.5, Y: p.Room.Size.Y / 2, Z: 1}) {
		t.Errorf("judged at %v", at)
	}
}

// The same search has the same front on one core and on many.
func TestFrontRepeats(t *testing.T) {
	t.Parallel()
	p := sofaRoom(1)
	again := func() []FrontPoint {
		r, err := Place(context.Background(), p, newModal(p.Room.Size), brief)
		if err != nil {
			t.Fatal(err)
		}
		return r.Front
	}
	if a, b := again(), again(); !slices.Equal(a, b) {
		t.Errorf("%v, then %v", a, b)
	}
}

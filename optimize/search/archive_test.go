package search

import (
	"context"
	"errors"
	"slices"
	"testing"

	"evenbass/model"
	"evenbass/optimize/geometry"
	"evenbass/optimize/testroom"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// along is a layout known by the head's place alone.
func along(x float64) model.Layout { return model.Layout{Seat: r3.Vec{X: x}} }

// Of what clearing keeps no two are too near, the best is first, and all that it
// drops has a better one near it.
func TestClearing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var all []Record
		for range rapid.IntRange(1, 30).Draw(t, "notes") {
			all = append(all, Record{along(rapid.Float64Range(0, 3).Draw(t, "x")), rapid.Float64Range(3, 9).Draw(t, "score")})
		}
		kept := BestApart(slices.Clone(all), len(all), 0.25)
		for i, k := range kept {
			for _, m := range kept[:i] {
				if geometry.Apart(k.Layout, m.Layout) < 0.25-1e-9 || k.Score < m.Score {
					t.Fatalf("%v comes after %v", k, m)
				}
			}
		}
		for _, n := range all {
			if !slices.ContainsFunc(kept, func(k Record) bool { return k.Score <= n.Score && geometry.Apart(k.Layout, n.Layout) < 0.25 }) {
				t.Fatalf("%v was dropped for nothing better", n)
			}
		}
		if some := BestApart(slices.Clone(all), 1, 0.25); len(some) != 1 || some[0] != kept[0] {
			t.Fatalf("the best alone is %v, among all %v", some, kept[0])
		}
	})
}

// A difference in height counts as one on plan does; one mark is enough.
func TestApart(t *testing.T) {
	a := model.Layout{Left: r3.Vec{X: 1, Y: 1, Z: 1}, Right: r3.Vec{X: 1, Y: 2, Z: 1}, Seat: r3.Vec{X: 2, Y: 1.5, Z: 1.2}}
	b := a
	b.Left.Z, b.Seat.X = 1.3, 2.1
	if got := geometry.Apart(a, b); got < 0.3-1e-12 || got > 0.3+1e-12 {
		t.Errorf("apart by %v, want 0.3", got)
	}
}

// Any legal layout is better than any other, of illegal ones the lesser evil is;
// each is scored once.
func TestArchiveOrder(t *testing.T) {
	p := testroom.Studio()
	legal := model.Layout{Left: r3.Vec{X: 0.7, Y: 0.95, Z: 0.98}, Right: r3.Vec{X: 0.7, Y: 2.15, Z: 0.98}, Seat: r3.Vec{X: 1.74, Y: 1.55, Z: 1.2}}
	if v := p.Violation(legal); v > 0 {
		t.Fatal(p.Breaches(legal))
	}
	bad, worse := legal, legal
	bad.Seat.X, worse.Seat.X = 3.6, 3.9
	calls := 0
	g := NewArchive(p, func(context.Context, model.Layout) (model.Level, error) { calls++; return 40, nil })
	var scores []float64
	for _, l := range []model.Layout{legal, bad, worse, legal} {
		s, err := g.Rate(t.Context(), l)
		if err != nil {
			t.Fatal(err)
		}
		scores = append(scores, s)
	}
	if !(scores[0] < scores[1] && scores[1] < scores[2]) || calls != 1 || g.Legal != 1 || g.Best.Layout != legal {
		t.Errorf("scores %v in %d calls, %d lawful, best %+v", scores, calls, g.Legal, g.Best)
	}
}

func TestArchivePassesErrors(t *testing.T) {
	boom := errors.New("boom")
	g := NewArchive(&model.Project{Room: model.Room{Size: r3.Vec{X: 9, Y: 9, Z: 9}}}, func(context.Context, model.Layout) (model.Level, error) { return 0, boom })
	if _, err := g.Rate(t.Context(), model.Layout{Right: r3.Vec{Y: 1}, Seat: r3.Vec{X: 1, Y: 0.5, Z: 1}}); !errors.Is(err, boom) {
		t.Errorf("error %v", err)
	}
}

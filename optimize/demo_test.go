package optimize

import (
	"testing"

	"evenbass/optimize/geometry"
	"evenbass/optimize/score"
	"evenbass/optimize/search"
	"evenbass/optimize/table"
)

// In the demo room, by what the chair alone gets, the search offers at least three layouts that
// are legal and further apart than 25 cm. Each is a local optimum by the engine itself: no
// step of 1 cm of one, two or three marks gains more than the search's table may be off.
func TestDemoRoomHasThreeLocalOptima(t *testing.T) {
	if !long() {
		t.Skip("takes a while: EVENBASS_LONG=1")
	}
	p, e := demo(t)
	p.Seats = p.Seats[:1]
	r, err := Place(t.Context(), p, e, Settings{Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Candidates) < 3 {
		t.Fatalf("%d layouts, want 3 at least", len(r.Candidates))
	}
	pr, err := search.NewProblem(p)
	if err != nil {
		t.Fatal(err)
	}
	b, err := score.NewBand(e, p.Goal)
	if err != nil {
		t.Fatal(err)
	}
	score := score.NewScorer(b, p, 0.05).Robust
	for i, c := range r.Candidates {
		if v := p.Violation(c.Layout); v > 0 {
			t.Errorf("layout %d: %v", i+1, p.Breaches(c.Layout))
		}
		for _, o := range r.Candidates[:i] {
			if geometry.Apart(c.Layout, o.Layout) < 0.25-1e-9 {
				t.Errorf("layouts %+v and %+v", o.Layout, c.Layout)
			}
		}
		for _, n := range pr.Neighbours(c.Layout, 1) {
			if p.Violation(n) > 0 {
				continue
			}
			if v, err := score(t.Context(), n); err != nil || v < c.Robust-2*table.Accuracy {
				t.Errorf("layout %d: %.3f dB, but %.3f dB at %+v (%v)", i+1, c.Robust, v, n, err)
			}
		}
	}
}

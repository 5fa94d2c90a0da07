package stage

import (
	"context"
	"maps"
	"math"

	"evenbass/model"
)

// FixedOrder is what a fixed order builds from the same batts: corners first, then the back
// wall, then the first reflections at side walls and ceiling. It serves as a comparison.
// Common practice, no source.
type FixedOrder struct {
	Pieces []Piece
	Batts  int
	After  *State
}

// rule follows the fixed order as far as the batts last.
func (c *choosing) rule(ctx context.Context) (*FixedOrder, error) {
	r := &FixedOrder{}
	take := func(good func(p *Piece) bool) {
		for i := range c.pieces {
			if p := &c.pieces[i]; good(p) && c.fits(p, r.Pieces, c.settings.Batts) {
				r.Pieces = append(r.Pieces, *p)
				r.Batts += p.Batts
			}
		}
	}
	take(func(p *Piece) bool { return p.Kind == Corner })
	take(func(p *Piece) bool { return p.Kind == DoubleLayer && p.Treatments[0].Patch.Face == model.Back })
	mirror := reflection(c.layouts[c.start])
	take(func(p *Piece) bool {
		t := &p.Treatments[0]
		return p.Kind == SingleLayer && t.Patch.Face.Axis() == 1 && t.Patch.Along <= mirror && mirror <= t.Patch.Along+t.Patch.Width
	})
	take(func(p *Piece) bool { return p.Kind == Cloud })
	layout, err := c.best(ctx, r.Pieces, c.start, maps.Clone(c.behind))
	if err != nil {
		return nil, err
	}
	r.After, err = c.state(ctx, r.Pieces, layout, Shown)
	return r, err
}

// reflection returns the x at which the side wall reflects the nearer speaker to the seat.
func reflection(l model.Layout) float64 {
	s, h := l.Left, l.Seat
	share := s.Y / (s.Y + h.Y)
	if math.IsNaN(share) {
		share = 0.5
	}
	return s.X + share*(h.X-s.X)
}

// Regret compares a plan made for fewer batts with one made for more.
type Regret struct {
	Kept  int     // stages of the larger plan that the fewer batts allow, from its beginning
	After *State  // state after those
	Loss  float64 // how much worse that scores than the plan made for the fewer, dB
}

// Regret says what it costs to have started a plan for more batts than arrived. Both plans
// must be of this planner.
func (l *Planner) Regret(larger, smaller *Plan) *Regret {
	r := &Regret{After: larger.Start}
	left := append([]int(nil), smaller.Batts...)
	for _, s := range larger.Stages {
		if left[s.Batt] -= s.Batts; left[s.Batt] < 0 {
			break
		}
		r.Kept, r.After = r.Kept+1, s.After
	}
	r.Loss = r.After.Score() - smaller.End().Score()
	return r
}

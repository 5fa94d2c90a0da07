package optimize

import (
	"context"
	"math"

	"evenbass/model"
)

// RulePlan is what a fixed order builds from the same bats: corners first, then the back
// wall, then the first reflections at side walls and ceiling. It is there to be compared
// with. Common practice, no source.
type RulePlan struct {
	Patterns []Pattern
	Bats     int
	After    *Hearing
}

// rule follows the fixed order as far as the bats last.
func (l *Planner) rule(ctx context.Context, bats []int) (*RulePlan, error) {
	r := &RulePlan{}
	take := func(good func(p *Pattern) bool) {
		for i := range l.patterns {
			if p := &l.patterns[i]; good(p) && l.fits(p, r.Patterns, bats) {
				r.Patterns = append(r.Patterns, *p)
				r.Bats += p.Bats
			}
		}
	}
	take(func(p *Pattern) bool { return p.Sort == Corner })
	take(func(p *Pattern) bool { return p.Sort == DoubleLayer && p.Treatments[0].Patch.Face == model.Back })
	mirror := l.reflection()
	take(func(p *Pattern) bool {
		t := &p.Treatments[0]
		return p.Sort == SingleLayer && t.Patch.Face.Axis() == 1 && t.Patch.Along <= mirror && mirror <= t.Patch.Along+t.Patch.Width
	})
	take(func(p *Pattern) bool { return p.Sort == Cloud })
	var err error
	r.After, err = l.hear(ctx, r.Patterns, false)
	return r, err
}

// reflection returns the x at which the side wall mirrors the nearer speaker to the head.
func (l *Planner) reflection() float64 {
	s, h := l.layout.Left, l.layout.Seat
	share := s.Y / (s.Y + h.Y)
	if math.IsNaN(share) {
		share = 0.5
	}
	return s.X + share*(h.X-s.X)
}

// Regret compares a plan made for fewer bats with the one that was made for more.
type Regret struct {
	Kept  int      // stages of the larger plan that the fewer bats allow, from its beginning
	After *Hearing // what is heard after those
	Loss  float64  // by which that is worse in score than the plan made for the fewer, dB
}

// Regret says what is lost by having begun with a plan for more bats than came. Both
// plans must be of this planner.
func (l *Planner) Regret(larger, smaller *StagePlan) *Regret {
	r := &Regret{After: larger.Start}
	left := append([]int(nil), smaller.Bats...)
	for _, s := range larger.Stages {
		if left[s.Bat] -= s.Bats; left[s.Bat] < 0 {
			break
		}
		r.Kept, r.After = r.Kept+1, s.After
	}
	r.Loss = r.After.Score() - smaller.End().Score()
	return r
}

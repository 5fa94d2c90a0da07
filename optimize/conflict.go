package optimize

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"math/rand"
	"slices"

	"evenbass/model"
	"evenbass/model/concurrent"
)

// Relaxation is a constraint that need only be relaxed, with all others kept, for something
// to fit.
type Relaxation struct {
	Constraint string       // "the listening distance"
	Least      model.Breach // of it, by the layout found that breaks it least
}

// constraint is a constraint that the owner may relax.
type constraint struct {
	name string
	drop func(p *model.Project)
}

// constraints lists what the owner of a project may relax: everything but walls and solid
// things.
func constraints(p *model.Project) []constraint {
	var list []constraint
	add := func(given bool, name string, drop func(p *model.Project)) {
		if given {
			list = append(list, constraint{name, drop})
		}
	}
	s, l := &p.Speakers, &p.Listening
	add(l.Distance.Given(), "the listening distance", func(p *model.Project) { p.Listening.Distance = model.Range{} })
	add(l.Angle.Given(), "the listening angle", func(p *model.Project) { p.Listening.Angle = model.Range{} })
	add(l.BackDistance > 0, "the distance of the ears from the back wall", func(p *model.Project) { p.Listening.BackDistance = 0 })
	add(!math.IsInf(p.SeatBalance(), 1), "the difference of the two listening distances", func(p *model.Project) { p.Listening.Balance = math.Inf(1) })
	add(s.Apart.Given() && !s.Fixed, "the distance between the woofers", func(p *model.Project) { p.Speakers.Apart = model.Range{} })
	add(s.RearClearance > 0 && !s.Fixed, "the clearance behind the speakers", func(p *model.Project) { p.Speakers.RearClearance = 0 })
	add(s.SideClearance > 0 && !s.Fixed, "the clearance beside the speakers", func(p *model.Project) { p.Speakers.SideClearance = 0 })
	add(len(s.Zones) > 0, "the zones of the speakers", func(p *model.Project) { p.Speakers.Zones = nil })
	add(len(p.Seats[0].Zones) > 0, "the zones of the seat", func(p *model.Project) {
		p.Seats = slices.Clone(p.Seats)
		p.Seats[0].Zones, p.Seats[0].Placed = nil, false
	})
	for i, k := range p.KeepClear {
		add(true, fmt.Sprintf("the space kept clear for %q", k.Name), func(p *model.Project) {
			p.KeepClear = slices.Delete(slices.Clone(p.KeepClear), i, i+1)
		})
	}
	for i, o := range p.Room.Openings {
		add(o.Swing == "inward", fmt.Sprintf("the swing of the door in the %s", p.Room.OpeningWall(&o)), func(p *model.Project) {
			p.Room.Openings = slices.Clone(p.Room.Openings)
			p.Room.Openings[i].Swing = ""
		})
	}
	return list
}

// relaxations returns the constraints of which relaxing one is enough, the one that need be
// relaxed least first. The amounts come from layouts on the lattice of 1 cm, so they may be
// a little too large, never too small.
func relaxations(p *model.Project) []Relaxation {
	all := constraints(p)
	found := make([]*Relaxation, len(all))
	err := concurrent.Each(len(all), func(i int) error {
		found[i] = all[i].relax(p)
		return nil
	})
	if err != nil {
		return nil
	}
	var list []Relaxation
	for _, r := range found {
		if r != nil {
			list = append(list, *r)
		}
	}
	slices.SortStableFunc(list, func(a, b Relaxation) int { return cmp.Compare(a.Least.Amount, b.Least.Amount) })
	return list
}

// To find out whether a project without one of its constraints has a legal layout,
// conflictSamples random ones are tried, and the best conflictStarts polished.
const (
	conflictSamples = 3000
	conflictStarts  = 4
)

// relax looks for the layout that keeps everything but the constraint and breaks that least;
// nil if there is none.
func (c constraint) relax(p *model.Project) *Relaxation {
	without := *p
	c.drop(&without)
	b, err := newProblem(&without)
	if err != nil {
		return nil
	}
	g := newArchive(&without, func(_ context.Context, l model.Layout) (model.Level, error) { return model.Level(p.Violation(l)), nil })
	ctx := context.Background() // rules alone take no time
	rng := rand.New(rand.NewSource(1))
	x := make([]float64, b.dim)
	samples := make([]record, conflictSamples)
	for i := range samples {
		for k := range x {
			x[k] = rng.Float64()
		}
		l := b.decode(&genes{x: x})
		score, err := g.rate(ctx, l)
		if err != nil {
			return nil
		}
		samples[i] = record{l, score}
	}
	best := samples[0]
	for _, from := range bestApart(samples, conflictStarts, 0.1) {
		if to, err := b.polish(ctx, g, from); err == nil && to.before(best) {
			best = to
		}
	}
	if best.score >= illegal {
		return nil
	}
	broken := p.Breaches(best.layout)
	if len(broken) == 0 {
		return nil
	}
	worst := slices.MaxFunc(broken, func(a, b model.Breach) int { return cmp.Compare(a.Amount, b.Amount) })
	return &Relaxation{Constraint: c.name, Least: worst}
}

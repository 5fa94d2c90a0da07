package search

import (
	"cmp"
	"context"
	"math"
	"math/rand"
	"slices"

	"evenbass/model"
	"evenbass/model/concurrent"
)

// Relaxation is a constraint that need only be relaxed, with all others kept, for something
// to fit.
type Relaxation struct {
	Constraint Constraint
	Least      model.Breach // of it, by the layout found that breaks it least
}

// ConstraintKind names what the owner of a project may relax.
type ConstraintKind int

// The kinds of constraints.
const (
	DistanceConstraint     ConstraintKind = iota // the listening distance
	AngleConstraint                              // the listening angle
	BackConstraint                               // the distance of the ears from the back wall
	BalanceConstraint                            // the difference of the two listening distances
	ApartConstraint                              // the distance between the woofers
	RearConstraint                               // the clearance behind the speakers
	SideConstraint                               // the clearance beside the speakers
	SpeakerZonesConstraint                       // the zones of the speakers
	SeatZonesConstraint                          // the zones of the seat
	KeepClearConstraint                          // the space kept clear of that name
	SwingConstraint                              // the swing of the door in the wall of that name
)

// Constraint is one of them, with the name that tells it from others of its kind.
type Constraint struct {
	Kind    ConstraintKind
	Name    string
	Default bool // the owner did not write it
}

// constraint is a constraint with the function that drops it from a project.
type constraint struct {
	Constraint
	drop func(p *model.Project)
}

// constraints lists what the owner of a project may relax: everything but walls and solid
// things.
func constraints(p *model.Project) []constraint {
	var list []constraint
	named := func(given bool, kind ConstraintKind, name string, drop func(p *model.Project)) {
		if given {
			list = append(list, constraint{Constraint{Kind: kind, Name: name}, drop})
		}
	}
	add := func(given bool, kind ConstraintKind, drop func(p *model.Project)) { named(given, kind, "", drop) }
	s, l := &p.Speakers, &p.Listening
	add(l.Distance.Given(), DistanceConstraint, func(p *model.Project) { p.Listening.Distance = model.Range{} })
	add(l.Angle.Given(), AngleConstraint, func(p *model.Project) { p.Listening.Angle = model.Range{} })
	add(l.BackDistance > 0, BackConstraint, func(p *model.Project) { p.Listening.BackDistance = 0 })
	add(!math.IsInf(p.SeatBalance(), 1), BalanceConstraint, func(p *model.Project) { p.Listening.Balance = math.Inf(1) })
	add(s.Apart.Given() && !s.Fixed, ApartConstraint, func(p *model.Project) { p.Speakers.Apart = model.Range{} })
	add(s.RearClearance > 0 && !s.Fixed, RearConstraint, func(p *model.Project) { p.Speakers.RearClearance = 0 })
	add(s.SideClearance > 0 && !s.Fixed, SideConstraint, func(p *model.Project) { p.Speakers.SideClearance = 0 })
	add(len(s.Zones) > 0, SpeakerZonesConstraint, func(p *model.Project) { p.Speakers.Zones = nil })
	add(len(p.Seats[0].Zones) > 0, SeatZonesConstraint, func(p *model.Project) {
		p.Seats = slices.Clone(p.Seats)
		p.Seats[0].Zones, p.Seats[0].Placed = nil, false
	})
	unwritten := map[ConstraintKind]bool{DistanceConstraint: p.Unwritten.Distance, AngleConstraint: p.Unwritten.Angle, BackConstraint: p.Unwritten.Back}
	for i := range list {
		list[i].Default = unwritten[list[i].Kind]
	}
	for i, k := range p.KeepClear {
		named(!k.Flat(), KeepClearConstraint, k.Name, func(p *model.Project) {
			p.KeepClear = slices.Delete(slices.Clone(p.KeepClear), i, i+1)
		})
	}
	for i, o := range p.Room.Openings {
		named(o.Swing == "inward", SwingConstraint, p.Room.OpeningWall(&o), func(p *model.Project) {
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
	b, err := NewProblem(&without)
	if err != nil {
		return nil
	}
	g := NewArchive(&without, func(_ context.Context, l model.Layout) (model.Level, error) { return model.Level(p.Violation(l)), nil })
	ctx := context.Background() // rules alone take no time
	rng := rand.New(rand.NewSource(1))
	samples := make([]Record, conflictSamples)
	for i := range samples {
		l := b.Random(rng.Float64)
		score, err := g.Rate(ctx, l)
		if err != nil {
			return nil
		}
		samples[i] = Record{l, score}
	}
	best := samples[0]
	for _, from := range BestApart(samples, conflictStarts, 0.1) {
		if to, err := b.Polish(ctx, g, from); err == nil && to.before(best) {
			best = to
		}
	}
	if best.Score >= Illegal {
		return nil
	}
	broken := p.Breaches(best.Layout)
	if len(broken) == 0 {
		return nil
	}
	worst := slices.MaxFunc(broken, func(a, b model.Breach) int { return cmp.Compare(a.Amount, b.Amount) })
	return &Relaxation{Constraint: c.Constraint, Least: worst}
}

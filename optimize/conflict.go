package optimize

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"math/rand"
	"slices"

	"evenbass/model"
)

// Mend is a constraint of which it is enough that it alone gives way for something to
// fit.
type Mend struct {
	What string // "the listening distance"
	By   string // by how much at the least that was found: "4.6 cm", "12°"

	amount float64 // m
}

// constraint is a constraint that the owner may give up.
type constraint struct {
	what string
	drop func(p *model.Project)
}

// constraints lists what the owner of a project may give up, walls and solid things left
// out.
func constraints(p *model.Project) []constraint {
	var list []constraint
	add := func(given bool, what string, drop func(p *model.Project)) {
		if given {
			list = append(list, constraint{what, drop})
		}
	}
	s, l := &p.Speakers, &p.Listening
	add(l.Distance.Given(), "the listening distance", func(p *model.Project) { p.Listening.Distance = model.Range{} })
	add(l.Angle.Given(), "the listening angle", func(p *model.Project) { p.Listening.Angle = model.Range{} })
	add(l.BackDistance > 0, "the head's distance from the back wall", func(p *model.Project) { p.Listening.BackDistance = 0 })
	add(!math.IsInf(p.SeatBalance(), 1), "the balance of the two distances", func(p *model.Project) { p.Listening.Balance = math.Inf(1) })
	add(s.Apart.Given() && !s.Fixed, "the distance between the woofers", func(p *model.Project) { p.Speakers.Apart = model.Range{} })
	add(s.RearClearance > 0 && !s.Fixed, "the clearance behind the speakers", func(p *model.Project) { p.Speakers.RearClearance = 0 })
	add(s.SideClearance > 0 && !s.Fixed, "the clearance beside the speakers", func(p *model.Project) { p.Speakers.SideClearance = 0 })
	add(len(s.Zones) > 0, "the zones of the speakers", func(p *model.Project) { p.Speakers.Zones = nil })
	add(len(p.Seats[0].Zones) > 0, "the zones of the seat", func(p *model.Project) {
		p.Seats = slices.Clone(p.Seats)
		p.Seats[0].Zones, p.Seats[0].Placed = nil, false
	})
	for i, k := range p.KeepClear {
		add(true, fmt.Sprintf("what is kept clear for %q", k.Name), func(p *model.Project) {
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

// relaxations returns the constraints that collide: those of which one alone need give way,
// the one that need give least first. Lengths are tried by the centimetre, so that
// little is missed and never too little promised.
func relaxations(p *model.Project) []Mend {
	all := constraints(p)
	found := make([]*Mend, len(all))
	err := parallel(len(all), func(i int) error {
		found[i] = all[i].relax(p)
		return nil
	})
	if err != nil {
		return nil
	}
	var list []Mend
	for _, m := range found {
		if m != nil {
			list = append(list, *m)
		}
	}
	slices.SortStableFunc(list, func(a, b Mend) int { return cmp.Compare(a.amount, b.amount) })
	return list
}

// How many layouts are drawn to find out whether a project without one of its
// constraints has a legal one, and how many of the best are walked from.
const (
	conflictSamples = 3000
	conflictStarts  = 4
)

// relax looks for the layout that keeps everything but the wish and breaks that least;
// nil if there is none.
func (w constraint) relax(p *model.Project) *Mend {
	without := *p
	w.drop(&without)
	b, err := newProblem(&without)
	if err != nil {
		return nil
	}
	g := newArchive(&without, func(l model.Layout) (model.Level, error) { return model.Level(p.Violation(l)), nil })
	rng := rand.New(rand.NewSource(1))
	x := make([]float64, b.dim)
	notes := make([]record, conflictSamples)
	for i := range notes {
		for k := range x {
			x[k] = rng.Float64()
		}
		l := b.decode(&genes{x: x})
		score, err := g.rate(l)
		if err != nil {
			return nil
		}
		notes[i] = record{l, score}
	}
	best := notes[0]
	for _, from := range bestApart(notes, conflictStarts, 0.1) {
		if to, err := b.polish(context.Background(), g, from); err == nil && to.before(best) {
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
	return &Mend{What: w.what, By: worst.By(), amount: worst.Amount}
}

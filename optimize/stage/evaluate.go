package stage

import (
	"context"

	"evenbass/model/concurrent"
)

// fill adds stages of the chosen pieces to a plan, computed finely and each in the layout that suits it best. It
// drops the worst stage that gains too little by these figures, and computes the rest again.
func (c *choosing) fill(ctx context.Context, plan *Plan) error {
	plan.Reason, plan.Possible = c.reason, len(c.pieces)
	for {
		layouts := []int{c.start}
		for i := range c.chosen {
			layout, err := c.best(ctx, c.chosen[:i+1], layouts[i], c.behind)
			if err != nil {
				return err
			}
			layouts = append(layouts, layout)
		}
		states := make([]*State, len(layouts)) // before the first stage and after each
		err := concurrent.Each(len(layouts), func(i int) (err error) {
			states[i], err = c.state(ctx, c.chosen[:i], layouts[i], Shown)
			return err
		})
		if err != nil {
			return err
		}
		c.layout, plan.Start = layouts[len(layouts)-1], states[0]
		worst := plan.setStages(c.chosen, states[1:])
		if worst < 0 {
			return nil
		}
		if err := c.replace(ctx, worst); err != nil {
			return err
		}
	}
}

// setStages makes stages of pieces with the states after each, and returns the worst of those
// that gain too little, or -1.
func (p *Plan) setStages(chosen []Piece, after []*State) int {
	p.Stages, p.Layout = nil, p.Start.Layout
	before, worst := p.Start.Score(), -1
	for i, piece := range chosen {
		p.Stages = append(p.Stages, Stage{piece, after[i], before - after[i].Score()})
		before, p.Layout = after[i].Score(), after[i].Layout
		if g := p.Stages[i].Gain; g < p.LeastGain && (worst < 0 || g < p.Stages[worst].Gain) {
			worst = i
		}
	}
	return worst
}

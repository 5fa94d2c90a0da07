package stage

import (
	"cmp"
	"context"
	"maps"
	"math"
	"slices"

	"evenbass/model/concurrent"
)

// compareWithRest adds to a plan what its pieces leave: pieces that are left out, batts that are left, corners,
// and the fixed order.
func (c *choosing) compareWithRest(ctx context.Context, plan *Plan) error {
	if err := c.expect(ctx, c.chosen, Ranked); err != nil {
		return err
	}
	return concurrent.Each(4, func(i int) (err error) {
		switch i {
		case 0:
			plan.Rest, err = c.rest(ctx)
		case 1:
			plan.Rule, err = c.rule(ctx)
		case 2:
			plan.Omitted, err = c.omissions(ctx)
		case 3:
			plan.Corners, err = c.corners(ctx)
		}
		return err
	})
}

// omissions computes for each kind that is not built what its best piece would gain on top
// of the plan, whether or not there are batts for it. Worst first.
func (c *choosing) omissions(ctx context.Context) ([]Omission, error) {
	best := map[Kind]Piece{}
	plenty := slices.Repeat([]int{math.MaxInt}, len(c.settings.Batts))
	for _, p := range c.pieces {
		if slices.ContainsFunc(c.chosen, func(q Piece) bool { return q.Kind == p.Kind }) || !c.fits(&p, c.chosen, plenty) {
			continue
		}
		if q, ok := best[p.Kind]; !ok || c.perBatt(p) > c.perBatt(q) {
			best[p.Kind] = p
		}
	}
	var list []Omission
	for sort := SingleLayer; sort <= Bag; sort++ {
		if p, ok := best[sort]; ok {
			list = append(list, Omission{Piece: p})
		}
	}
	base, err := c.state(ctx, c.chosen, c.layout, Ranked)
	if err != nil {
		return nil, err
	}
	err = concurrent.Each(len(list), func(i int) error {
		h, err := c.state(ctx, append(slices.Clone(c.chosen), list[i].Piece), c.layout, Ranked)
		if err == nil {
			list[i].Gain = base.Score() - h.Score()
		}
		return err
	})
	slices.SortStableFunc(list, func(a, b Omission) int { return cmp.Compare(a.Gain, b.Gain) })
	return list, err
}

// rest adds what can still be built from the batts that are left, by what each piece is expected to gain, and
// computes the room with all of it. It returns nil if nothing more would gain.
func (c *choosing) rest(ctx context.Context) (*Extension, error) {
	e := &Extension{}
	all := slices.Clone(c.chosen)
	for {
		queue := slices.DeleteFunc(c.queue(all), func(p Piece) bool { return c.gain(p) <= 0 })
		if len(queue) == 0 {
			break
		}
		all = append(all, queue[0])
		e.Pieces, e.Batts = append(e.Pieces, queue[0]), e.Batts+queue[0].Batts
	}
	if len(e.Pieces) == 0 {
		return nil, nil
	}
	layout, err := c.best(ctx, all, c.layout, maps.Clone(c.behind))
	if err != nil {
		return nil, err
	}
	e.After, err = c.state(ctx, all, layout, Shown)
	return e, err
}

// corners returns the corner fill that alone gains most per batt, with what it and the plan's first piece gain
// alone, unless the plan begins with a corner fill. Corners are the usual first choice.
func (c *choosing) corners(ctx context.Context) (*Alone, error) {
	if len(c.chosen) == 0 || c.chosen[0].Kind == Corner {
		return nil, nil
	}
	var best *Piece
	var most float64 // per batt
	for i := range c.pieces {
		p := &c.pieces[i]
		tried, ok := c.alone[keyOf(c.pieces[i:i+1])]
		if p.Kind != Corner || !ok {
			continue
		}
		if gain := tried.gain() / float64(p.Batts); best == nil || gain > most {
			best, most = p, gain
		}
	}
	if best == nil {
		return nil, nil
	}
	var scores [3]float64
	err := concurrent.Each(len(scores), func(i int) error {
		h, err := c.state(ctx, [][]Piece{nil, {*best}, c.chosen[:1]}[i], c.start, Ranked)
		if err == nil {
			scores[i] = h.Score()
		}
		return err
	})
	return &Alone{Piece: *best, Gain: scores[0] - scores[1], First: scores[0] - scores[2]}, err
}

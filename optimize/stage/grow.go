package stage

import (
	"cmp"
	"context"
	"math"
	"slices"

	"evenbass/model/concurrent"
)

// grow adds the piece that gains most per batt until none gains enough, and notes why it ends.
func (c *choosing) grow(ctx context.Context) error {
	for {
		var err error
		if c.layout, err = c.best(ctx, c.chosen, c.layout, c.behind); err != nil {
			return err
		}
		best, why, err := c.next(ctx)
		if err != nil {
			return err
		}
		if best == nil {
			c.reason = why
			return nil
		}
		c.chosen = append(c.chosen, *best)
	}
}

// next returns the piece to add, or nil and why there is none. It tries the pieces that are expected to gain most
// per batt and, if none of these gains enough, those that are expected to gain most.
func (c *choosing) next(ctx context.Context) (*Piece, Reason, error) {
	if err := c.expect(ctx, c.chosen, c.compete); err != nil {
		return nil, 0, err
	}
	queue := c.queue(c.chosen)
	if len(queue) == 0 {
		return nil, NoFurtherFits, nil
	}
	var best *Piece
	try := func(now []Piece) error {
		err := c.try(ctx, now, c.compete)
		for i := range now {
			if err == nil && c.gain(now[i]) >= c.settings.LeastGain && (best == nil || c.prefer(now[i], *best) < 0) {
				best = &now[i]
			}
		}
		return err
	}
	most := min(c.settings.Tries, len(queue))
	for now := range slices.Chunk(queue[:most], batch) {
		if best != nil && c.worth(now[0]) < c.worth(*best) {
			break // the rest is expected to gain less
		}
		if err := try(now); err != nil {
			return nil, 0, err
		}
	}
	if best == nil && c.compete == Ranked {
		others, otherwise := queue[most:], c.compareGains
		if c.byGain {
			otherwise = c.compare
		}
		slices.SortStableFunc(others, otherwise)
		if err := try(others[:min(batch, len(others))]); err != nil {
			return nil, 0, err
		}
	}
	if best == nil {
		return nil, NoFurtherGains, nil
	}
	return best, 0, nil
}

// queue returns the pieces that fit beside those built and leave space for pair and seats, by
// descending gain per batt that is expected.
func (c *choosing) queue(built []Piece) []Piece {
	var list []Piece
	for i := range c.pieces {
		if !c.poor[keyOf(c.pieces[i:i+1])] && c.fits(&c.pieces[i], built, c.settings.Batts) && (c.layout == c.start || c.admits(c.layout, c.pieces[i:i+1])) {
			list = append(list, c.pieces[i])
		}
	}
	slices.SortStableFunc(list, c.prefer)
	return list
}

// tie is the gain in score per batt up to which two pieces count as equal, dB.
const tie = 0.02

// compare orders pieces: first that with the greater expected gain per batt; of equals, that
// which costs less, then that which leaves less of its batts as offcuts.
func (c *choosing) compare(a, b Piece) int {
	return cmp.Or(
		cmp.Compare(math.Round(c.perBatt(b)/tie), math.Round(c.perBatt(a)/tie)),
		cmp.Compare(a.Cost/float64(a.Batts), b.Cost/float64(b.Batts)),
		cmp.Compare(math.Round(20*a.Offcut), math.Round(20*b.Offcut)),
		cmp.Compare(c.perBatt(b), c.perBatt(a)),
	)
}

// try records what pieces gain on top of those chosen.
func (c *choosing) try(ctx context.Context, list []Piece, a Accuracy) error {
	before, err := c.state(ctx, c.chosen, c.layout, a)
	if err != nil {
		return err
	}
	after := make([]*State, len(list))
	err = concurrent.Each(len(list), func(i int) (err error) {
		after[i], err = c.state(ctx, append(slices.Clone(c.chosen), list[i]), c.layout, a)
		return err
	})
	if err != nil {
		return err
	}
	for i := range list {
		tried, key := attempt{before, after[i]}, keyOf(list[i:i+1])
		c.last[key], c.gains[key] = tried, tried.gain()
	}
	most := len(c.pieces) + 3*(3*c.settings.Tries+c.settings.Swaps)
	c.progress.Report("choosing pieces", min(1, float64(c.tried.Load())/float64(most)))
	return nil
}

// gain returns what a piece is expected to gain.
func (c *choosing) gain(p Piece) float64 { return c.gains[keyOf([]Piece{p})] }

// perBatt returns what a piece is expected to gain per batt.
func (c *choosing) perBatt(p Piece) float64 { return c.gain(p) / float64(p.Batts) }

// compareGains puts first what is expected to gain more.
func (c *choosing) compareGains(a, b Piece) int { return cmp.Compare(c.gain(b), c.gain(a)) }

// worth returns by what a piece competes: what it is expected to gain, or that per batt.
func (c *choosing) worth(p Piece) float64 {
	if c.byGain {
		return c.gain(p)
	}
	return c.perBatt(p)
}

// prefer puts first what is worth more.
func (c *choosing) prefer(a, b Piece) int {
	if c.byGain {
		return c.compareGains(a, b)
	}
	return c.compare(a, b)
}

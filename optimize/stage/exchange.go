package stage

import (
	"context"
	"slices"

	"evenbass/model/concurrent"
)

// exchange replaces chosen pieces by others as long as the score falls: first by other build-ups in the same place,
// then by pieces elsewhere. Those that are expected to gain most are tried first.
func (c *choosing) exchange(ctx context.Context) error {
	const most = 6 // tried for each piece, in its place and elsewhere
	left := c.settings.Swaps
	for improved := true; improved; {
		improved = false
		for _, there := range []bool{true, false} {
			for i := range c.chosen {
				if left <= 0 {
					return nil
				}
				rest := slices.Delete(slices.Clone(c.chosen), i, i+1)
				better, used, err := c.swap(ctx, rest, c.chosen[i], there, min(left, most))
				if err != nil {
					return err
				}
				left -= used
				if better != nil {
					c.chosen, improved = slices.Insert(rest, i, *better), true
				}
			}
		}
	}
	return nil
}

// swap looks for a piece that does better beside the rest than the old one, in its place or elsewhere, and returns
// how many it tried.
func (c *choosing) swap(ctx context.Context, rest []Piece, old Piece, there bool, most int) (*Piece, int, error) {
	now, err := c.state(ctx, append(slices.Clone(rest), old), c.layout, Ranked)
	if err != nil {
		return nil, 0, err
	}
	if err := c.expect(ctx, rest, Ranked); err != nil {
		return nil, 0, err
	}
	queue := slices.DeleteFunc(c.queue(rest), func(p Piece) bool { return p.Name == old.Name || c.overlap(&p, &old) != there })
	slices.SortStableFunc(queue, c.compareGains)
	queue = queue[:min(len(queue), most)]
	scores := make([]float64, len(queue))
	err = concurrent.Each(len(queue), func(i int) error {
		h, err := c.state(ctx, append(slices.Clone(rest), queue[i]), c.layout, Ranked)
		if err == nil {
			scores[i] = h.Score()
		}
		return err
	})
	var best *Piece
	least := now.Score() - swapGain
	for i := range queue {
		if err == nil && scores[i] < least {
			best, least = &queue[i], scores[i]
		}
	}
	return best, len(queue), err
}

// swapGain is the least gain in score for an exchange, dB: a smaller one is within the error of the engine that
// ranks.
const swapGain = 0.1

// order sorts the chosen pieces so that each next one gains most per batt.
func (c *choosing) order(ctx context.Context) error {
	var done []Piece
	rest := slices.Clone(c.chosen)
	for len(rest) > 1 {
		before, err := c.state(ctx, done, c.layout, Ranked)
		if err != nil {
			return err
		}
		gain := make([]float64, len(rest))
		err = concurrent.Each(len(rest), func(i int) error {
			h, err := c.state(ctx, append(slices.Clone(done), rest[i]), c.layout, Ranked)
			if err == nil {
				gain[i] = (before.Score() - h.Score()) / float64(rest[i].Batts)
			}
			return err
		})
		if err != nil {
			return err
		}
		best := 0
		for i := range gain {
			if gain[i] > gain[best] {
				best = i
			}
		}
		done, rest = append(done, rest[best]), slices.Delete(rest, best, best+1)
	}
	c.chosen = append(done, rest...)
	return nil
}

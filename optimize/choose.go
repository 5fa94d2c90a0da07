package optimize

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"math"
	"slices"
)

// choosing is a plan in the making.
type choosing struct {
	*Planner
	settings StageSettings
	chosen   []Pattern
	gains    map[string]float64 // last known gain of each pattern in score, dB
}

// batch is how many patterns are tried side by side, whatever the number of cores: the
// answer must not depend on that.
const batch = 4

// run tries every pattern alone, chooses from several beginnings, since one by one alone
// ends where the first happens to lead, and puts what does best in order.
func (c *choosing) run(ctx context.Context, plan *StagePlan) error {
	base, err := c.hear(ctx, nil, true)
	if err != nil {
		return err
	}
	queue := c.queue(c.chosen)
	for n := 0; n < len(queue); n += batch {
		if err := c.try(ctx, base.Score(), queue[n:min(n+batch, len(queue))]); err != nil {
			return err
		}
	}
	plan.Reason = fmt.Sprintf("no piece gains %.1f dB in score", c.settings.Pays)
	if len(queue) == 0 {
		plan.Reason = "no piece can be built from so few bats"
	}
	least := base.Score()
	for _, first := range c.beginnings() {
		d := &choosing{Planner: c.Planner, settings: c.settings, gains: maps.Clone(c.gains), chosen: []Pattern{first}}
		why, err := d.grow(ctx)
		if err == nil {
			err = d.exchange(ctx)
		}
		if err == nil {
			var end *Hearing
			if end, err = c.hear(ctx, d.chosen, true); err == nil && end.Score() < least {
				least, c.chosen, plan.Reason = end.Score(), d.chosen, why
			}
		}
		if err != nil {
			return err
		}
	}
	if len(c.chosen) > 1 {
		return c.order(ctx)
	}
	return nil
}

// beginnings returns the patterns from which a plan may start: those that gain most per
// bat alone, and those that gain most.
func (c *choosing) beginnings() []Pattern {
	const each = 2
	var list []Pattern
	take := func(queue []Pattern) {
		taken := 0
		for _, p := range queue {
			if taken == each || c.gains[keyOf([]Pattern{p})] < c.settings.Pays {
				return
			}
			taken++
			if !slices.ContainsFunc(list, func(q Pattern) bool { return q.Name == p.Name && q.Bat == p.Bat }) {
				list = append(list, p)
			}
		}
	}
	queue := c.queue(c.chosen)
	take(queue)
	slices.SortStableFunc(queue, func(a, b Pattern) int {
		return cmp.Compare(c.gains[keyOf([]Pattern{b})], c.gains[keyOf([]Pattern{a})])
	})
	take(queue)
	return list
}

// grow adds the pattern that gains most per bat until none pays, and says why it ends.
func (c *choosing) grow(ctx context.Context) (string, error) {
	for {
		best, why, err := c.next(ctx)
		if err != nil || best == nil {
			return why, err
		}
		c.chosen = append(c.chosen, *best)
	}
}

// next returns the pattern to be added, or nil and why there is none.
func (c *choosing) next(ctx context.Context) (*Pattern, string, error) {
	base, err := c.hear(ctx, c.chosen, true)
	if err != nil {
		return nil, "", err
	}
	queue := c.queue(c.chosen)
	if len(queue) == 0 {
		return nil, "no further piece can be built from the bats that are left", nil
	}
	tries := c.settings.Tries
	var best *Pattern
	for n := 0; n < min(tries, len(queue)); n += batch {
		now := queue[n:min(n+batch, len(queue), n+tries)]
		if best != nil && c.alone(now[0]) < c.alone(*best) {
			break // none that is left was better before
		}
		if err := c.try(ctx, base.Score(), now); err != nil {
			return nil, "", err
		}
		for i := range now {
			if c.gains[keyOf(now[i:i+1])] >= c.settings.Pays && (best == nil || c.alone(now[i]) > c.alone(*best)) {
				best = &now[i]
			}
		}
	}
	if best == nil {
		return nil, fmt.Sprintf("no further piece gains %.1f dB in score", c.settings.Pays), nil
	}
	return best, "", nil
}

// queue returns the patterns that fit beside what is built, by what is known of their
// gain per bat.
func (c *choosing) queue(built []Pattern) []Pattern {
	var list []Pattern
	for i := range c.patterns {
		if c.fits(&c.patterns[i], built, c.settings.Bats) {
			list = append(list, c.patterns[i])
		}
	}
	slices.SortStableFunc(list, func(a, b Pattern) int {
		return cmp.Compare(c.alone(b), c.alone(a))
	})
	return list
}

// try notes what patterns gain beside what is chosen.
func (c *choosing) try(ctx context.Context, before float64, list []Pattern) error {
	gains := make([]float64, len(list))
	err := parallel(len(list), func(i int) error {
		h, err := c.hear(ctx, append(slices.Clone(c.chosen), list[i]), true)
		if err == nil {
			gains[i] = before - h.Score()
		}
		return err
	})
	if err != nil {
		return err
	}
	for i := range list {
		c.gains[keyOf(list[i:i+1])] = gains[i]
	}
	if c.progress != nil {
		c.progress(int(c.tried.Load()), len(c.patterns)+5*(3*c.settings.Tries+c.settings.Swaps))
	}
	return nil
}

// exchange replaces one chosen pattern by another as long as the score falls, those that
// did best by themselves first.
func (c *choosing) exchange(ctx context.Context) error {
	left := c.settings.Swaps
	for improved := true; improved && left > 0; {
		improved = false
		for i := range c.chosen {
			rest := slices.Delete(slices.Clone(c.chosen), i, i+1)
			better, used, err := c.swap(ctx, rest, c.chosen[i], min(left, 2*batch))
			left -= used
			if err != nil {
				return err
			}
			if better != nil {
				c.chosen, improved = append(rest, *better), true
				break
			}
			if left <= 0 {
				return nil
			}
		}
	}
	return nil
}

// swap looks for a pattern that beside the rest does better than the old one, and tells
// how many it tried.
func (c *choosing) swap(ctx context.Context, rest []Pattern, old Pattern, most int) (*Pattern, int, error) {
	now, err := c.hear(ctx, append(slices.Clone(rest), old), true)
	if err != nil {
		return nil, 0, err
	}
	queue := slices.DeleteFunc(c.queue(rest), func(p Pattern) bool { return p.Name == old.Name })
	queue = queue[:min(len(queue), most)]
	scores := make([]float64, len(queue))
	err = parallel(len(queue), func(i int) error {
		h, err := c.hear(ctx, append(slices.Clone(rest), queue[i]), true)
		if err == nil {
			scores[i] = h.Score()
		}
		return err
	})
	var best *Pattern
	least := now.Score() - swapPays
	for i := range queue {
		if err == nil && scores[i] < least {
			best, least = &queue[i], scores[i]
		}
	}
	return best, len(queue), err
}

// swapPays is the least gain in score for an exchange, dB: less is noise of the rough
// engine.
const swapPays = 0.1

// order puts the chosen patterns so that each next one gains most per bat.
func (c *choosing) order(ctx context.Context) error {
	var done []Pattern
	rest := slices.Clone(c.chosen)
	for len(rest) > 1 {
		before, err := c.hear(ctx, done, true)
		if err != nil {
			return err
		}
		gain := make([]float64, len(rest))
		err = parallel(len(rest), func(i int) error {
			h, err := c.hear(ctx, append(slices.Clone(done), rest[i]), true)
			if err == nil {
				gain[i] = (before.Score() - h.Score()) / float64(rest[i].Bats)
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

// leave computes what of each sort that is not built the one that did best by itself would
// gain beside all that is, whether or not there are bats for it. Worst first.
func (c *choosing) leave(ctx context.Context) ([]Omission, error) {
	best := map[PatternSort]Pattern{}
	plenty := slices.Repeat([]int{math.MaxInt}, len(c.settings.Bats))
	for _, p := range c.patterns {
		if slices.ContainsFunc(c.chosen, func(q Pattern) bool { return q.Sort == p.Sort }) || !c.fits(&p, c.chosen, plenty) {
			continue
		}
		if q, ok := best[p.Sort]; !ok || c.alone(p) > c.alone(q) {
			best[p.Sort] = p
		}
	}
	var list []Omission
	for sort := SingleLayer; sort <= Sack; sort++ {
		if p, ok := best[sort]; ok {
			list = append(list, Omission{Pattern: p})
		}
	}
	base, err := c.hear(ctx, c.chosen, true)
	if err != nil {
		return nil, err
	}
	err = parallel(len(list), func(i int) error {
		h, err := c.hear(ctx, append(slices.Clone(c.chosen), list[i].Pattern), true)
		if err == nil {
			list[i].Gain = base.Score() - h.Score()
		}
		return err
	})
	slices.SortStableFunc(list, func(a, b Omission) int { return cmp.Compare(a.Gain, b.Gain) })
	return list, err
}

// alone is what a pattern gained when it was tried last, per bat.
func (c *choosing) alone(p Pattern) float64 {
	return c.gains[keyOf([]Pattern{p})] / float64(p.Bats)
}

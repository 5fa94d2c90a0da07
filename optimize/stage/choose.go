package stage

import (
	"cmp"
	"context"
	"evenbass/model/concurrent"
	"maps"
	"math"
	"slices"
)

// choosing is a plan in the making.
type choosing struct {
	*Planner
	settings Settings
	layout   int // of pair and seat beside what is chosen
	chosen   []Piece
	gains    map[string]float64 // last known gain of each piece in score, dB
	first    map[string]float64 // what each gains alone
}

// batch is how many pieces are tried in parallel, whatever the number of cores: the answer
// must not depend on that.
const batch = 4

// run tries every piece alone, grows a plan from each of several first pieces, and puts the best
// plan in order. A plan grown from one first piece alone may end worse than another.
func (c *choosing) run(ctx context.Context, plan *Plan) error {
	queue, alone := c.queue(c.chosen), screening
	if c.settings.Sketch {
		alone = ranking
	}
	for n := 0; n < len(queue); n += batch {
		if err := c.try(ctx, queue[n:min(n+batch, len(queue))], alone); err != nil {
			return err
		}
	}
	c.first = maps.Clone(c.gains)
	plan.Reason = NoPieceGains
	if len(queue) == 0 {
		plan.Reason = NoPieceFits
	}
	base, err := c.state(ctx, nil, c.layout, rough)
	if err != nil {
		return err
	}
	least, start := base.Score(), c.layout
	for _, first := range c.firstPieces() {
		d := &choosing{Planner: c.Planner, settings: c.settings, layout: start, gains: maps.Clone(c.first), chosen: []Piece{first}}
		why, err := d.Grow(ctx)
		if err != nil {
			return err
		}
		if err := d.exchange(ctx); err != nil {
			return err
		}
		end, err := c.state(ctx, d.chosen, d.layout, rough)
		if err != nil {
			return err
		}
		if end.Score() < least {
			least, c.chosen, c.layout, plan.Reason = end.Score(), d.chosen, d.layout, why
		}
	}
	if len(c.chosen) > 1 {
		return c.order(ctx)
	}
	return nil
}

// firstPieces returns the pieces from which a plan may start: those that alone gain most
// per batt, and those that gain most.
func (c *choosing) firstPieces() []Piece {
	each := 2
	if len(c.layouts) > 1 {
		each = 1 // each state takes longer, and the layouts vary the start
	}
	var list []Piece
	take := func(queue []Piece) {
		taken := 0
		for _, p := range queue {
			if taken == each || c.gains[keyOf([]Piece{p})] < c.settings.LeastGain {
				return
			}
			taken++
			if !slices.ContainsFunc(list, func(q Piece) bool { return q.Name == p.Name && q.Batt == p.Batt }) {
				list = append(list, p)
			}
		}
	}
	queue := c.queue(c.chosen)
	take(queue)
	slices.SortStableFunc(queue, func(a, b Piece) int {
		return cmp.Compare(c.gains[keyOf([]Piece{b})], c.gains[keyOf([]Piece{a})])
	})
	take(queue)
	return list
}

// Grow adds the piece that gains most per batt until none gains enough, and says why it
// ends.
func (c *choosing) Grow(ctx context.Context) (Reason, error) {
	for {
		var err error
		if c.layout, err = c.best(ctx, c.chosen, c.layout); err != nil {
			return 0, err
		}
		best, why, err := c.next(ctx)
		if err != nil || best == nil {
			return why, err
		}
		c.chosen = append(c.chosen, *best)
	}
}

// next returns the piece to add, or nil and why there is none.
func (c *choosing) next(ctx context.Context) (*Piece, Reason, error) {
	queue := c.queue(c.chosen)
	if len(queue) == 0 {
		return nil, NoFurtherFits, nil
	}
	tries := c.settings.Tries
	var best *Piece
	for n := 0; n < min(tries, len(queue)); n += batch {
		now := queue[n:min(n+batch, len(queue), n+tries)]
		if best != nil && c.Alone(now[0]) < c.Alone(*best) {
			break // the rest gained less before
		}
		if err := c.try(ctx, now, rough); err != nil {
			return nil, 0, err
		}
		for i := range now {
			if c.gains[keyOf(now[i:i+1])] >= c.settings.LeastGain && (best == nil || c.compare(now[i], *best) < 0) {
				best = &now[i]
			}
		}
	}
	if best == nil {
		return nil, NoFurtherGains, nil
	}
	return best, 0, nil
}

// queue returns the pieces that fit beside those built and leave space for pair and seats, by
// descending last known gain per batt.
func (c *choosing) queue(built []Piece) []Piece {
	var list []Piece
	for i := range c.pieces {
		if c.fits(&c.pieces[i], built, c.settings.Batts) && (len(c.layouts) == 1 || c.admits(c.layout, c.pieces[i:i+1])) {
			list = append(list, c.pieces[i])
		}
	}
	slices.SortStableFunc(list, c.compare)
	return list
}

// tie is the gain in score per batt up to which two pieces count as equal, dB.
const tie = 0.02

// compare orders pieces: first that with the greater last known gain per batt; of equals, that
// which costs less, then that which leaves less of its batts as offcuts.
func (c *choosing) compare(a, b Piece) int {
	return cmp.Or(
		cmp.Compare(math.Round(c.Alone(b)/tie), math.Round(c.Alone(a)/tie)),
		cmp.Compare(a.Cost/float64(a.Batts), b.Cost/float64(b.Batts)),
		cmp.Compare(math.Round(20*a.Offcut), math.Round(20*b.Offcut)),
		cmp.Compare(c.Alone(b), c.Alone(a)),
	)
}

// try records what pieces gain on top of those chosen.
func (c *choosing) try(ctx context.Context, list []Piece, d depth) error {
	before, err := c.state(ctx, c.chosen, c.layout, d)
	if err != nil {
		return err
	}
	gains := make([]float64, len(list))
	err = concurrent.Each(len(list), func(i int) error {
		h, err := c.state(ctx, append(slices.Clone(c.chosen), list[i]), c.layout, d)
		if err == nil {
			gains[i] = before.Score() - h.Score()
		}
		return err
	})
	if err != nil {
		return err
	}
	for i := range list {
		c.gains[keyOf(list[i:i+1])] = gains[i]
	}
	most := len(c.pieces) + 5*(3*c.settings.Tries+c.settings.Swaps)
	c.progress.Report("choosing pieces", min(1, float64(c.tried.Load())/float64(most)))
	return nil
}

// exchange replaces one chosen piece by another as long as the score falls. Pieces that did
// best alone are tried first.
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

// swap looks for a piece that does better beside the rest than the old one, and returns
// how many it tried.
func (c *choosing) swap(ctx context.Context, rest []Piece, old Piece, most int) (*Piece, int, error) {
	now, err := c.state(ctx, append(slices.Clone(rest), old), c.layout, rough)
	if err != nil {
		return nil, 0, err
	}
	queue := slices.DeleteFunc(c.queue(rest), func(p Piece) bool { return p.Name == old.Name })
	queue = queue[:min(len(queue), most)]
	scores := make([]float64, len(queue))
	err = concurrent.Each(len(queue), func(i int) error {
		h, err := c.state(ctx, append(slices.Clone(rest), queue[i]), c.layout, rough)
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

// swapGain is the least gain in score for an exchange, dB: a smaller one is within the rough
// engine's error.
const swapGain = 0.1

// order sorts the chosen pieces so that each next one gains most per batt.
func (c *choosing) order(ctx context.Context) error {
	var done []Piece
	rest := slices.Clone(c.chosen)
	for len(rest) > 1 {
		before, err := c.state(ctx, done, c.layout, rough)
		if err != nil {
			return err
		}
		gain := make([]float64, len(rest))
		err = concurrent.Each(len(rest), func(i int) error {
			h, err := c.state(ctx, append(slices.Clone(done), rest[i]), c.layout, rough)
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

// omissions computes for each kind that is not built what its best piece would gain on top
// of the plan, whether or not there are batts for it. Worst first.
func (c *choosing) omissions(ctx context.Context) ([]Omission, error) {
	best := map[Kind]Piece{}
	plenty := slices.Repeat([]int{math.MaxInt}, len(c.settings.Batts))
	for _, p := range c.pieces {
		if slices.ContainsFunc(c.chosen, func(q Piece) bool { return q.Kind == p.Kind }) || !c.fits(&p, c.chosen, plenty) {
			continue
		}
		if q, ok := best[p.Kind]; !ok || c.Alone(p) > c.Alone(q) {
			best[p.Kind] = p
		}
	}
	var list []Omission
	for sort := SingleLayer; sort <= Bag; sort++ {
		if p, ok := best[sort]; ok {
			list = append(list, Omission{Piece: p})
		}
	}
	base, err := c.state(ctx, c.chosen, c.layout, rough)
	if err != nil {
		return nil, err
	}
	err = concurrent.Each(len(list), func(i int) error {
		h, err := c.state(ctx, append(slices.Clone(c.chosen), list[i].Piece), c.layout, rough)
		if err == nil {
			list[i].Gain = base.Score() - h.Score()
		}
		return err
	})
	slices.SortStableFunc(list, func(a, b Omission) int { return cmp.Compare(a.Gain, b.Gain) })
	return list, err
}

// Alone returns what a piece gained per batt when it was last tried.
func (c *choosing) Alone(p Piece) float64 {
	return c.gains[keyOf([]Piece{p})] / float64(p.Batts)
}

// rest adds what can still be built from the batts that are left, by what each piece gained when
// it was tried last, and computes the room with all of it. It returns nil if nothing more would
// gain.
func (c *choosing) rest(ctx context.Context) (*Extension, error) {
	e := &Extension{}
	all := slices.Clone(c.chosen)
	for {
		queue := slices.DeleteFunc(c.queue(all), func(p Piece) bool { return c.gains[keyOf([]Piece{p})] <= 0 })
		if len(queue) == 0 {
			break
		}
		all = append(all, queue[0])
		e.Pieces, e.Batts = append(e.Pieces, queue[0]), e.Batts+queue[0].Batts
	}
	if len(e.Pieces) == 0 {
		return nil, nil
	}
	layout, err := c.best(ctx, all, c.layout)
	if err != nil {
		return nil, err
	}
	e.After, err = c.state(ctx, all, layout, fine)
	return e, err
}

// corners returns the corner fill that alone gains most per batt, unless the plan begins with it.
// Corners are the usual first choice.
func (c *choosing) corners() *Alone {
	if len(c.chosen) == 0 || c.chosen[0].Kind == Corner {
		return nil
	}
	alone := func(p *Piece) float64 { return c.first[keyOf([]Piece{*p})] }
	a := &Alone{First: alone(&c.chosen[0])}
	for i := range c.pieces {
		p := &c.pieces[i]
		if p.Kind != Corner {
			continue
		}
		if a.Batts == 0 || alone(p)/float64(p.Batts) > a.Gain/float64(a.Batts) {
			a.Piece, a.Gain = *p, alone(p)
		}
	}
	if a.Batts == 0 {
		return nil
	}
	return a
}

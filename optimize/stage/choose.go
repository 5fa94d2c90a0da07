package stage

import (
	"context"
	"maps"
	"slices"
)

// choosing is a plan in the making.
type choosing struct {
	*Planner
	*site    // beside the layout before anything is built
	settings Settings
	compete  Accuracy       // of the engine by which pieces compete
	byGain   bool           // they compete by their gain, not by their gain per batt
	stays    bool           // pair and seat stay in the present layout
	start    int            // layout before anything is built
	layout   int            // of pair and seat beside what is chosen
	behind   map[int]behind // by layout, when it was last tried
	chosen   []Piece
	poor     map[string]bool    // pieces that gained too little when they were looked at closely
	last     map[string]attempt // of each piece, by keyOf
	gains    map[string]float64 // in score that each piece is expected to bring next, dB
	alone    map[string]attempt // of each piece without others
	reason   Reason             // why the plan ends
}

func (l *Planner) choosing(s Settings, stays bool) *choosing {
	return &choosing{Planner: l, settings: s, compete: Ranked, stays: stays, behind: map[int]behind{}, poor: map[string]bool{}, last: map[string]attempt{}, gains: map[string]float64{}}
}

// from returns the same choice before its first piece but this one.
func (c *choosing) from(first ...Piece) *choosing {
	d := *c
	d.layout, d.chosen, d.behind, d.last, d.gains = c.start, first, maps.Clone(c.behind), maps.Clone(c.last), maps.Clone(c.gains)
	return &d
}

// batch is how many pieces are tried in parallel, whatever the number of cores: the answer
// must not depend on that.
const batch = 4

// begin chooses the layout before anything is built, and finds what can be built beside it.
func (c *choosing) begin(ctx context.Context) (err error) {
	c.start, err = c.best(ctx, nil, 0, c.behind)
	c.layout, c.site = c.start, c.Planner.site(c.start)
	return err
}

// run tries every piece alone, grows a plan from each of several first pieces, and puts the best
// plan in order. A plan grown from one first piece alone may end worse than another.
func (c *choosing) run(ctx context.Context) error {
	queue := c.queue(nil)
	for some := range slices.Chunk(queue, 4*batch) {
		if err := c.try(ctx, some, Screened); err != nil {
			return err
		}
	}
	c.alone = maps.Clone(c.last)
	c.reason = NoPieceGains
	if len(queue) == 0 {
		c.reason = NoPieceFits
	}
	if err := c.growBest(ctx); err != nil {
		return err
	}
	return c.order(ctx)
}

// replace takes a piece out for good and adds what then gains enough.
func (c *choosing) replace(ctx context.Context, i int) error {
	c.poor[keyOf(c.chosen[i:i+1])] = true
	c.chosen = slices.Delete(slices.Clone(c.chosen), i, i+1)
	return c.grow(ctx)
}

// growBest grows a plan from each of several first pieces and exchanges pieces of the best.
func (c *choosing) growBest(ctx context.Context) error {
	base, err := c.state(ctx, nil, c.start, Ranked)
	if err != nil {
		return err
	}
	least := base.Score()
	for _, d := range c.firsts() {
		if err := d.grow(ctx); err != nil {
			return err
		}
		end, err := d.state(ctx, d.chosen, d.layout, Ranked)
		if err != nil {
			return err
		}
		if end.Score() < least {
			least = end.Score()
			c.take(d)
		}
	}
	if len(c.chosen) == 0 {
		return nil
	}
	if err := c.exchange(ctx); err != nil {
		return err
	}
	return c.grow(ctx) // what fits now
}

// take makes the choice of another its own.
func (c *choosing) take(d *choosing) {
	c.byGain, c.layout, c.behind, c.chosen = d.byGain, d.layout, d.behind, d.chosen
	c.last, c.gains, c.reason = d.last, d.gains, d.reason
}

// firsts returns the choices of one piece from which a plan grows: of those that alone gain most per batt, and of
// those that gain most. The former go on by gain per batt, which pays where batts are few, the latter by gain.
func (c *choosing) firsts() []*choosing {
	each := 2
	if !c.stays {
		each = 1 // each state takes longer, and the layouts vary the start
	}
	var list []*choosing
	for _, byGain := range []bool{false, true} {
		d := c.from()
		d.byGain = byGain
		queue := d.queue(nil)
		for i := range queue[:min(each, len(queue))] {
			if p := queue[i]; c.gain(p) >= c.settings.LeastGain {
				list = append(list, d.from(p))
			}
		}
	}
	return list
}

package stage

import (
	"context"
	"math"
)

// A plan that stays goes on while it is at most this much worse than the one that moves, dB; see MEASURED.md of
// package optimize.
const (
	farBehind   = 2 // grown quickly
	closeBehind = 1 // grown properly, before its stages are computed finely
)

// staying plans as if pair and seat had to stay where they are now, for comparison with a plan that may move
// them. It returns nil if that falls far behind. To see that, a plan grows quickly on the coarsest cells, from
// what each piece gains where the other plan begins.
func (c *choosing) staying(ctx context.Context, moving *Plan) (*choosing, *Plan, error) {
	end, err := c.state(ctx, c.chosen, c.layout, Ranked)
	if err != nil {
		return nil, nil, err
	}
	still := c.Planner.choosing(c.settings, true)
	still.site = still.Planner.site(0)
	quick := still.from()
	quick.settings.Tries, quick.compete = batch, Screened
	for i := range still.pieces {
		key := keyOf(still.pieces[i : i+1])
		if a, ok := c.alone[key]; ok {
			quick.last[key] = a
		} else {
			quick.gains[key] = math.Inf(1) // to be tried
		}
	}
	if err := quick.grow(ctx); err != nil {
		return nil, nil, err
	}
	if behind, err := quick.behindOf(ctx, end); err != nil || behind > farBehind {
		return nil, nil, err
	}
	if err := still.run(ctx); err != nil {
		return nil, nil, err
	}
	if behind, err := still.behindOf(ctx, end); err != nil || behind > closeBehind {
		return nil, nil, err
	}
	plan := c.plan(moving.Now, c.settings)
	return still, plan, still.fill(ctx, plan)
}

// behindOf returns by how much a choice of pieces scores worse than another end, dB.
func (c *choosing) behindOf(ctx context.Context, end *State) (float64, error) {
	mine, err := c.state(ctx, c.chosen, c.layout, Ranked)
	if err != nil {
		return 0, err
	}
	return mine.Score() - end.Score(), nil
}

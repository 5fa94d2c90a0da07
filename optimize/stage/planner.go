package stage

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"sync/atomic"

	"evenbass/model"
	"evenbass/model/concurrent"
)

// Errors of [NewPlanner] for projects for which nothing can be planned.
var (
	ErrNoStock = errors.New("the room file has no stock of batts to plan with")
	ErrNoBatts = errors.New("no batts are in hand")
	ErrNoPlace = errors.New("nothing can be built: no surface that may be covered is large enough for a piece of these batts")
	ErrNotNow  = errors.New("the speakers and the seat have no present place")
)

// Planner plans stages for one project and keeps the states it has computed.
type Planner struct {
	project   *model.Project
	layouts   []model.Layout // that of now first
	sites     map[int]*site  // by layout
	evaluator *evaluator
	states    *concurrent.Cache[string, *State]
	tried     atomic.Int64
	progress  model.Progress
}

// NewPlanner returns a planner for a valid project with stock, which reads levels over a
// grid of frequencies. The pair and the seat stay where they are now, see [Planner.MayMove].
func NewPlanner(p *model.Project, grid model.Grid, solve Solver) (*Planner, error) {
	now, ok := p.Now()
	switch {
	case p.Stock == nil || len(p.Stock.Batts) == 0:
		return nil, ErrNoStock
	case !slices.ContainsFunc(p.Stock.Batts, func(b model.Batt) bool { return b.Have > 0 }):
		return nil, ErrNoBatts
	case !ok:
		return nil, ErrNotNow
	}
	const many = 8192
	l := &Planner{
		project: p, layouts: []model.Layout{now}, sites: map[int]*site{}, evaluator: newEvaluator(grid, solve),
		states: concurrent.NewCache[string, *State](many),
	}
	if len(l.site(0).pieces) == 0 {
		return nil, ErrNoPlace
	}
	return l, nil
}

// MayMove lets pair and seat also stand in other layouts than the present one, wherever they do best
// beside what is built.
func (l *Planner) MayMove(layouts ...model.Layout) { l.layouts = append(l.layouts, layouts...) }

// Plan chooses pieces one after the other, from several first pieces: some plans grow by gain per batt, some by
// gain. It exchanges pieces of the best, orders them so that the piece with the most gain per batt comes first,
// and computes the stages finely. A stage that gains too little by these figures goes.
//
// Rough engines compare the pieces. The first round tries all of them; later rounds try at most Tries, those
// first that are expected to gain most from what they gained before (the lazy rule of M. Minoux, 1978, with an
// expectation for his bound).
//
// After each piece that is chosen, pair and seat go to the layout that then suits them best. Places that
// are best before anything is built need not be so at the end. So a plan that stays where things are now is
// made as well, unless it falls far behind, and the one that ends with the better score is taken.
//
// If the context ends, the plan holds what was chosen until then, with the reason StoppedEarly, unless
// not even the present room has been computed.
func (l *Planner) Plan(ctx context.Context, s Settings) (*Plan, error) {
	s = s.withDefaults(l.project.Stock)
	if len(s.Batts) != len(l.project.Stock.Batts) {
		panic("stage: the batts in hand and the stock differ in the number of sorts")
	}
	l.progress = s.Progress
	c := l.choosing(s, len(l.layouts) == 1)
	var now *State
	var begun error
	err := concurrent.Each(2, func(i int) (err error) {
		if i == 0 {
			now, err = l.state(ctx, nil, 0, Shown)
		} else {
			begun = c.begin(ctx)
		}
		return err
	})
	if err != nil {
		return nil, err
	}
	plan := l.plan(now, s)
	if err = begun; err == nil {
		plan, err = l.complete(ctx, plan, c)
	}
	plan.Tried = int(l.tried.Load())
	if err != nil && ctx.Err() != nil {
		plan.Reason = StoppedEarly
		return plan, ctx.Err()
	}
	return plan, err
}

// plan returns a plan without stages.
func (l *Planner) plan(now *State, s Settings) *Plan {
	return &Plan{Goal: l.project.Goal, Grid: l.evaluator.grid, Layout: l.layouts[0], Batts: s.Batts, Now: now, Start: now, LeastGain: s.LeastGain}
}

// complete chooses the pieces, moving and staying, and compares the better plan with what is left out and
// with the fixed order. It returns the plan as far as it has come.
func (l *Planner) complete(ctx context.Context, plan *Plan, c *choosing) (*Plan, error) {
	if err := c.run(ctx); err != nil {
		return plan, err
	}
	if err := c.fill(ctx, plan); err != nil {
		return plan, err
	}
	if !c.stays {
		still, other, err := c.staying(ctx, plan)
		if err != nil {
			return plan, err
		}
		if still != nil {
			if other.End().Score() <= plan.End().Score() {
				c, plan, other = still, other, plan
			}
			if other.Moves() != plan.Moves() {
				plan.Other = other
			}
		}
	}
	return plan, c.compareWithRest(ctx, plan)
}

// state returns the state of the room with some pieces built, in a layout.
func (l *Planner) state(ctx context.Context, built []Piece, layout int, a Accuracy) (*State, error) {
	return l.states.Get(fmt.Sprintf("%d %d %s", a, layout, keyOf(built)), func() (*State, error) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		q, err := l.with(built)
		if err != nil {
			return nil, err
		}
		l.tried.Add(1)
		return l.evaluator.state(ctx, q, l.layouts[layout], a)
	})
}

// with returns the project with pieces built.
func (l *Planner) with(built []Piece) (*model.Project, error) {
	o := &model.Option{}
	built = slices.Clone(built) // always in the same order: sums depend on it
	slices.SortFunc(built, func(a, b Piece) int { return cmp.Compare(keyOf([]Piece{a}), keyOf([]Piece{b})) })
	for _, p := range built {
		o.Add = append(o.Add, p.Treatments...)
	}
	q, err := l.project.With(o)
	if err != nil {
		return nil, fmt.Errorf("planned pieces do not go together: %w", err)
	}
	return q, nil
}

// keyOf names a set of pieces, whatever their order.
func keyOf(built []Piece) string {
	names := make([]string, len(built))
	for i, p := range built {
		names[i] = fmt.Sprintf("%d %s", p.Batt, p.Name)
	}
	slices.Sort(names)
	return fmt.Sprint(names)
}

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
	"evenbass/optimize"
)

// Settings controls the planning of stages. The zero value is a good choice.
type Settings struct {
	Batts     []int   // in hand, by sort in the stock; nil uses the stock
	LeastGain float64 // least gain in score for a stage, dB; 0 is [LeastGain]
	Tries     int     // most pieces tried for each stage after the first round; 0 is 12
	Swaps     int     // most exchanges tried from each first piece; 0 is 16
	Sketch    bool    // the first round, which tries every piece alone, is [Ranked] instead of [Compared]

	Progress model.Progress // receives how many pieces have been tried, of an estimate
}

// LeastGain is the least gain in score, in dB, for which a stage is worth the work. Our own
// choice.
const LeastGain = 0.3

func (s Settings) withDefaults(stock *model.Stock) Settings {
	if s.Batts == nil {
		for _, b := range stock.Batts {
			s.Batts = append(s.Batts, b.Have)
		}
	}
	s.LeastGain = optimize.Or(s.LeastGain, LeastGain)
	s.Tries = optimize.Or(s.Tries, 12)
	s.Swaps = optimize.Or(s.Swaps, 16)
	return s
}

// Stage is one step of a plan: a piece that is built, and the state of the room after it.
type Stage struct {
	Piece
	After *State
	Gain  float64 // in score over the stage before, dB
}

// Extension is more pieces on top of a plan, whether or not each gains enough.
type Extension struct {
	Pieces []Piece
	Batts  int
	After  *State
}

// Alone is a piece with its gain in score on its own, and that of the plan's first piece, dB;
// rough.
type Alone struct {
	Piece
	Gain, First float64
}

// Omission is a piece that is not built, and what it would gain on top of the plan.
type Omission struct {
	Piece
	Gain float64 // in score, dB; rough, see [Solver]
}

// Plan says which pieces to build from a stock, in which order.
type Plan struct {
	Goal   model.Goal
	Grid   model.Grid   // of the curves
	Layout model.Layout // at the end
	Batts  []int        // available, by sort
	Now    *State       // as things stand
	Start  *State       // before anything is built, with pair and seat where they then do best
	Stages []Stage

	Rest    *Extension // what the remaining batts would gain; nil if they make no piece
	Corners *Alone     // the corner fill that alone gains most per batt, where another piece comes first; else nil

	Omitted   []Omission // the best of each kind that is not built, on top of the plan; worst first
	Possible  int        // pieces that could be built at all
	Tried     int        // rooms computed
	Reason    Reason     // why it ends here
	LeastGain float64    // least gain of a stage in score, dB

	Rule *FixedOrder // nil if nothing could be built
}

// Reason says why a plan ends.
type Reason int

// The reasons. The zero value is "the plan has not ended".
const (
	_              Reason = iota
	NoPieceGains          // no piece gains enough
	NoPieceFits           // too few batts for any piece
	NoFurtherGains        // no other piece gains enough
	NoFurtherFits         // too few batts left for any other piece
	StoppedEarly          // the context ended
)

// Left returns how many batts of a sort the plan leaves.
func (p *Plan) Left(batt int) int {
	left := p.Batts[batt]
	for _, s := range p.Stages {
		if s.Batt == batt {
			left -= s.Batts
		}
	}
	return left
}

// Used returns how many batts of all sorts the first n stages take.
func (p *Plan) Used(n int) int {
	used := 0
	for _, s := range p.Stages[:n] {
		used += s.Batts
	}
	return used
}

// End is the state of the room after the last stage.
func (p *Plan) End() *State {
	if len(p.Stages) == 0 {
		return p.Start
	}
	return p.Stages[len(p.Stages)-1].After
}

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
	behind    map[int]behind // by layout, when it was last tried
	evaluator *evaluator
	pieces    []Piece
	ways      *ways
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
	l := &Planner{
		project: p, layouts: []model.Layout{now}, behind: map[int]behind{}, evaluator: newEvaluator(grid, solve),
		pieces: Pieces(p, now), ways: newWays(p, now),
	}
	if len(l.pieces) == 0 {
		return nil, ErrNoPlace
	}
	const many = 8192
	l.states = concurrent.NewCache[string, *State](many)
	return l, nil
}

// MayMove lets pair and seat also stand in other layouts than the present one, wherever they do best
// beside what is built.
func (l *Planner) MayMove(layouts ...model.Layout) { l.layouts = append(l.layouts, layouts...) }

// Plan chooses pieces by gain per batt, one after the other, from several first pieces. It
// exchanges pieces as long as that improves the whole, keeps the best result, orders it so
// that the piece with the most gain per batt comes first, and computes the stages finely.
// Rough engines compare the pieces. The first round tries all of them; later rounds try at
// most Tries of those that did best before, since a piece seldom gains more when others are
// built (the lazy rule of M. Minoux, 1978).
// After each piece that is chosen, pair and seat go to the layout that then suits them best.
//
// If the context ends, the plan holds what was chosen until then, with the reason StoppedEarly, unless
// not even the present room has been computed.
func (l *Planner) Plan(ctx context.Context, s Settings) (*Plan, error) {
	s = s.withDefaults(l.project.Stock)
	if len(s.Batts) != len(l.project.Stock.Batts) {
		panic("stage: the batts in hand and the stock differ in the number of sorts")
	}
	l.progress = s.Progress
	plan := &Plan{Goal: l.project.Goal, Grid: l.evaluator.grid, Layout: l.layouts[0], Batts: s.Batts, LeastGain: s.LeastGain}
	var err error
	if plan.Now, err = l.state(ctx, nil, 0, fine); err != nil {
		return nil, err
	}
	plan.Start = plan.Now
	c := &choosing{Planner: l, settings: s, gains: map[string]float64{}}
	err = l.complete(ctx, plan, c)
	plan.Tried = int(l.tried.Load())
	if err != nil && ctx.Err() != nil {
		plan.Reason = StoppedEarly
		return plan, ctx.Err()
	}
	return plan, err
}

// start chooses the layout before anything is built, and finds what can be built beside it.
func (l *Planner) start(ctx context.Context, plan *Plan, c *choosing) (err error) {
	if c.layout, err = l.best(ctx, nil, 0); err != nil {
		return err
	}
	if plan.Start, err = l.state(ctx, nil, c.layout, fine); err != nil {
		return err
	}
	if c.layout != 0 {
		l.pieces, l.ways = Pieces(l.project, l.layouts[c.layout]), newWays(l.project, l.layouts[c.layout])
	}
	plan.Layout, plan.Possible = plan.Start.Layout, len(l.pieces)
	return nil
}

// complete chooses the pieces, computes their stages, and compares them with what is left
// out and with the fixed order.
func (l *Planner) complete(ctx context.Context, plan *Plan, c *choosing) error {
	err := l.start(ctx, plan, c)
	if err != nil {
		return err
	}
	start := c.layout
	if err := c.run(ctx, plan); err != nil {
		return err
	}
	if c.chosen, c.layout, err = l.evaluateAll(ctx, plan, c.chosen, start); err != nil {
		return err
	}
	plan.Corners = c.corners()
	if plan.Omitted, err = c.omissions(ctx); err != nil {
		return err
	}
	if plan.Rest, err = c.rest(ctx); err != nil {
		return err
	}
	plan.Rule, err = l.rule(ctx, plan.Batts, start)
	return err
}

// evaluateAll computes the state after each stage with fine cells, in parallel, each in the
// layout that suits it best, and returns the layout of the last. It drops the worst stage that
// gains too little by these, and computes the rest again.
func (l *Planner) evaluateAll(ctx context.Context, plan *Plan, chosen []Piece, start int) ([]Piece, int, error) {
	for {
		layouts := make([]int, len(chosen))
		layout := start
		for i := range chosen {
			var err error
			if layout, err = l.best(ctx, chosen[:i+1], layout); err != nil {
				return nil, start, err
			}
			layouts[i] = layout
		}
		after := make([]*State, len(chosen))
		err := concurrent.Each(len(chosen), func(i int) (err error) {
			after[i], err = l.state(ctx, chosen[:i+1], layouts[i], fine)
			return err
		})
		if err != nil {
			return nil, start, err
		}
		worst := plan.setStages(chosen, after)
		if worst < 0 {
			return chosen, layout, nil
		}
		chosen = slices.Delete(slices.Clone(chosen), worst, worst+1)
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

// state returns the state of the room with some pieces built, in a layout.
func (l *Planner) state(ctx context.Context, built []Piece, layout int, d depth) (*State, error) {
	if d == screening && len(l.project.Seats) < 2 {
		d = rough
	}
	return l.states.Get(fmt.Sprintf("%d %d %s", d, layout, keyOf(built)), func() (*State, error) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		q, err := l.with(built)
		if err != nil {
			return nil, err
		}
		l.tried.Add(1)
		return l.evaluator.state(ctx, q, l.layouts[layout], d)
	})
}

// Compared returns the state of the room with some pieces built, in a layout that the plan knows, as
// pieces are compared: by the engine of [Compared].
func (l *Planner) Compared(ctx context.Context, built []Piece, layout model.Layout) (*State, error) {
	return l.state(ctx, built, slices.Index(l.layouts, layout), rough)
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

// fits reports whether a piece can be built beside others from the batts in hand, and leaves the
// seats their ways out.
func (l *Planner) fits(p *Piece, built []Piece, batts []int) bool {
	left := batts[p.Batt]
	var spaces []model.Block
	for _, b := range built {
		if b.Batt == p.Batt {
			left -= b.Batts
		}
		for i := range b.Treatments {
			spaces = append(spaces, l.project.Room.Space(&b.Treatments[i]))
		}
	}
	if p.Batts > left {
		return false
	}
	others := len(spaces)
	for j := range p.Treatments {
		space := l.project.Room.Space(&p.Treatments[j])
		for _, other := range spaces[:others] {
			if other.Overlaps(space) {
				return false
			}
		}
		spaces = append(spaces, space)
	}
	return l.ways.keep(spaces)
}

package optimize

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"sync/atomic"

	"evenbass/model"
)

// StageSettings controls the planning of stages. The zero value is a good choice.
type StageSettings struct {
	Bats  []int   // in hand, by sort in the stock; nil is what the stock says
	Pays  float64 // least gain in score for a stage, dB; 0 is [StagePays]
	Tries int     // patterns tried for each stage at most, after the first round; 0 is 12
	Swaps int     // exchanges tried from each beginning at most; 0 is 16

	Progress func(done, total int) // hears how many patterns have been tried; nil is fine
}

// StagePays is the least gain in score, in dB, for which a stage is worth the work. Our own
// choice.
const StagePays = 0.3

func (s StageSettings) withDefaults(stock *model.Stock) StageSettings {
	if s.Bats == nil {
		for _, b := range stock.Bats {
			s.Bats = append(s.Bats, b.Have)
		}
	}
	s.Pays = or(s.Pays, StagePays)
	s.Tries = or(s.Tries, 12)
	s.Swaps = or(s.Swaps, 16)
	return s
}

// Stage is one step of a plan: a pattern that is built, and what is heard then.
type Stage struct {
	Pattern
	After *Hearing
	Gain  float64 // in score over the stage before, dB
}

// Omission is a pattern that is not built, and what it would gain beside all that is.
type Omission struct {
	Pattern
	Gain float64 // in score, dB; roughly, see StageSolver
}

// StagePlan is which patterns to build from a stock, in which order.
type StagePlan struct {
	Goal   model.Goal
	Layout model.Layout
	Bats   []int // that were to be had, by sort
	Start  *Hearing
	Stages []Stage

	Leave  []Omission // of each sort that is not built the best, beside what is; worst first
	Offers int        // patterns that could be built at all
	Tried  int        // rooms computed
	Reason string     // why it ends here
	Cut    bool       // stopped by the context before its end

	Rule *RulePlan // nil if nothing could be built
}

// Left returns the bats of a sort that the plan leaves.
func (p *StagePlan) Left(bat int) int {
	left := p.Bats[bat]
	for _, s := range p.Stages {
		if s.Bat == bat {
			left -= s.Bats
		}
	}
	return left
}

// Used returns how many bats the first n stages take, of all sorts.
func (p *StagePlan) Used(n int) int {
	used := 0
	for _, s := range p.Stages[:n] {
		used += s.Bats
	}
	return used
}

// End is what is heard after the last stage.
func (p *StagePlan) End() *Hearing {
	if len(p.Stages) == 0 {
		return p.Start
	}
	return p.Stages[len(p.Stages)-1].After
}

// Errors of [Planner.Plan] for projects that nothing can be planned for.
var (
	ErrNoStock = errors.New("the room file has no stock of bats to plan with")
	ErrNoBats  = errors.New("no bats are in hand")
	ErrNoPlace = errors.New("nothing can be built: no surface that may be covered is large enough for a piece of these bats")
	ErrNotNow  = errors.New("the speakers and the seat have no present place")
)

// Planner plans stages for one project, and remembers what it has computed.
type Planner struct {
	project  *model.Project
	layout   model.Layout
	ear      *ear
	patterns []Pattern
	rough    *cache[string, *Hearing]
	fine     *cache[string, *Hearing]
	tried    atomic.Int64
	progress func(done, total int)
}

// NewPlanner returns a planner for a valid project with stock, the pair and the seat
// where they are now.
func NewPlanner(p *model.Project, solve StageSolver) (*Planner, error) {
	now, ok := p.Now()
	switch {
	case p.Stock == nil || len(p.Stock.Bats) == 0:
		return nil, ErrNoStock
	case !slices.ContainsFunc(p.Stock.Bats, func(b model.Bat) bool { return b.Have > 0 }):
		return nil, ErrNoBats
	case !ok:
		return nil, ErrNotNow
	}
	l := &Planner{project: p, layout: now, ear: newEar(solve, now), patterns: Patterns(p, now)}
	if len(l.patterns) == 0 {
		return nil, ErrNoPlace
	}
	const many = 4096
	l.rough, l.fine = newCache[string, *Hearing](many), newCache[string, *Hearing](many)
	return l, nil
}

// Plan chooses patterns by gain per bat, one after the other, from several beginnings,
// exchanges them as long as the whole gains, takes what does best, puts it in the order
// that gains most per bat first, and computes the stages finely. Patterns are compared
// by rough engines; the first round tries all, later ones those that did best before
// (their gain seldom grows by what else is built: the lazy rule of M. Minoux, 1978), at
// most Tries of them.
//
// If the context ends, the plan is what is chosen until then, with Cut set, unless not
// even the room as it is has been computed.
func (l *Planner) Plan(ctx context.Context, s StageSettings) (*StagePlan, error) {
	s = s.withDefaults(l.project.Stock)
	if len(s.Bats) != len(l.project.Stock.Bats) {
		panic("optimize: bats in hand by another number of sorts than the stock has")
	}
	l.progress = s.Progress
	plan := &StagePlan{Goal: l.project.Goal, Layout: l.layout, Bats: s.Bats, Offers: len(l.patterns)}
	var err error
	if plan.Start, err = l.hear(ctx, nil, false); err != nil {
		return nil, err
	}
	c := &choosing{Planner: l, settings: s, gains: map[string]float64{}}
	err = c.run(ctx, plan)
	if err == nil {
		c.chosen, err = l.evaluateAll(ctx, plan, c.chosen, s.Pays)
	}
	if err == nil {
		plan.Leave, err = c.leave(ctx)
	}
	if err == nil {
		plan.Rule, err = l.rule(ctx, s.Bats)
	}
	plan.Tried = int(l.tried.Load())
	if err != nil && ctx.Err() != nil {
		plan.Cut, plan.Reason = true, "stopped before the end"
		return plan, ctx.Err()
	}
	return plan, err
}

// evaluateAll computes what is heard after each stage with fine cells, side by side. A stage
// that does not pay by these is left out and the rest computed again.
func (l *Planner) evaluateAll(ctx context.Context, plan *StagePlan, chosen []Pattern, pays float64) ([]Pattern, error) {
	for {
		after := make([]*Hearing, len(chosen))
		err := parallel(len(chosen), func(i int) (err error) {
			after[i], err = l.hear(ctx, chosen[:i+1], false)
			return err
		})
		if err != nil {
			return nil, err
		}
		plan.Stages = nil
		before, worst := plan.Start.Score(), -1
		for i, p := range chosen {
			plan.Stages = append(plan.Stages, Stage{p, after[i], before - after[i].Score()})
			before = after[i].Score()
			if g := plan.Stages[i].Gain; g < pays && (worst < 0 || g < plan.Stages[worst].Gain) {
				worst = i
			}
		}
		if worst < 0 {
			return chosen, nil
		}
		chosen = slices.Delete(slices.Clone(chosen), worst, worst+1)
	}
}

// hear returns what is heard with patterns built.
func (l *Planner) hear(ctx context.Context, built []Pattern, rough bool) (*Hearing, error) {
	memory := l.fine
	if rough {
		memory = l.rough
	}
	return memory.get(keyOf(built), func() (*Hearing, error) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		q, err := l.with(built)
		if err != nil {
			return nil, err
		}
		l.tried.Add(1)
		return l.ear.hear(ctx, q, rough)
	})
}

// with returns the project with patterns built.
func (l *Planner) with(built []Pattern) (*model.Project, error) {
	o := &model.Option{}
	built = slices.Clone(built) // in one order always: sums must not depend on it
	slices.SortFunc(built, func(a, b Pattern) int { return cmp.Compare(keyOf([]Pattern{a}), keyOf([]Pattern{b})) })
	for _, p := range built {
		o.Add = append(o.Add, p.Treatments...)
	}
	q, err := l.project.With(o)
	if err != nil {
		return nil, fmt.Errorf("planned pieces do not go together: %w", err)
	}
	return q, nil
}

// keyOf names a set of patterns, whatever their order.
func keyOf(built []Pattern) string {
	names := make([]string, len(built))
	for i, p := range built {
		names[i] = fmt.Sprintf("%d %s", p.Bat, p.Name)
	}
	slices.Sort(names)
	return fmt.Sprint(names)
}

// fits reports whether a pattern can be built beside others from what is in hand.
func (l *Planner) fits(p *Pattern, built []Pattern, bats []int) bool {
	left := bats[p.Bat]
	for _, b := range built {
		if b.Bat == p.Bat {
			left -= b.Bats
		}
		for i := range b.Treatments {
			for j := range p.Treatments {
				if l.project.Room.Space(&b.Treatments[i]).Overlaps(l.project.Room.Space(&p.Treatments[j])) {
					return false
				}
			}
		}
	}
	return p.Bats <= left
}

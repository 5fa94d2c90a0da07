package optimize

import (
	"context"
	"errors"
	"slices"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/optimize/score"
	"evenbass/optimize/search"
)

// figuresContext returns the context under which figures are computed. It ends when a
// search's context is cancelled, but not when its deadline has passed, since layouts are of
// no use without their figures. Then only FiguresUntil stops it.
func (s *Settings) figuresContext(ctx context.Context) (rest context.Context, release func()) {
	rest, cancel := context.WithCancel(s.FiguresUntil)
	pass := func() {
		if errors.Is(ctx.Err(), context.Canceled) {
			cancel()
		}
	}
	pass()
	stop := context.AfterFunc(ctx, pass)
	return rest, func() { stop(); cancel() }
}

// evaluateAll computes what is shown of each layout by the engine itself, and puts the
// layouts in order. If the context ends meanwhile, it keeps the first layout and those that
// are complete. It fails if an engine that stops with the context leaves the first
// incomplete.
func (r *Result) evaluateAll(ctx context.Context, p *model.Project, b *score.Band, found []search.Record, s Settings) error {
	layouts := make([]model.Layout, 0, len(found)+1)
	for _, n := range found {
		layouts = append(layouts, n.Layout)
	}
	now, stands := p.Now()
	if stands {
		layouts = append(layouts, now)
	}
	all, done, err := evaluateLayouts(ctx, p, b, layouts, s)
	if err != nil {
		return err
	}
	for i := range found {
		if done[i] {
			r.Candidates = append(r.Candidates, all[i])
		}
	}
	slices.SortStableFunc(r.Candidates, func(x, y score.Candidate) int {
		return search.Record{Layout: x.Layout, Score: float64(x.Score)}.Compare(search.Record{Layout: y.Layout, Score: float64(y.Score)})
	})
	if stands && done[len(found)] {
		r.Now = &all[len(found)]
		r.Now.Breaches = p.Breaches(now)
	}
	if r.Now != nil && ctx.Err() == nil {
		r.Steps, err = Steps(ctx, p, b.Engine, now, r.Candidates[0].Layout)
	}
	if ctx.Err() != nil {
		r.Stopped, err = search.Cancelled, nil
	}
	return err
}

// evaluateLayouts evaluates layouts on all cores and reports which are done. Once the
// context has ended it begins no layout but the first.
func evaluateLayouts(ctx context.Context, p *model.Project, b *score.Band, layouts []model.Layout, s Settings) (all []score.Candidate, done []bool, err error) {
	all, done = make([]score.Candidate, len(layouts)), make([]bool, len(layouts))
	next := s.Progress.Counter(Finishing, len(layouts))
	err = concurrent.Each(len(layouts), func(i int) error {
		if i > 0 && ctx.Err() != nil {
			return nil
		}
		var err error
		all[i], err = b.Candidate(ctx, p, layouts[i], s.Displacement)
		if i > 0 && err != nil && ctx.Err() != nil {
			return nil
		}
		done[i] = err == nil
		next()
		return err
	})
	return all, done, err
}

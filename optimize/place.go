package optimize

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/optimize/score"
	"evenbass/optimize/search"
	"evenbass/optimize/table"

	"gonum.org/v1/gonum/spatial/r3"
)

// Place searches for the best places of the pair and the main seat. The result holds one to
// five legal layouts, the best first, each a local optimum on the lattice, and the present
// layout if there is one. Where the best impairs something, one of them may be the best found that
// impairs nothing instead, see [score.Unimpaired].
//
// If nothing fits, the error is an [*search.Infeasible]. If the context ends, Place returns the best
// so far with Stopped Cancelled or OutOfTime, together with the context's error. A deadline stops nothing before
// the first legal layout is found. Stopped by hand before that, the result is nil. Stopped by hand, it returns the best layout and
// those others whose figures are complete. With a wide engine set and no figures yet, it
// returns the best layout alone, with the figures of that engine.
func Place(ctx context.Context, p *model.Project, e model.Engine, s Settings) (*Result, error) {
	h, err := newPlacing(p, e, s)
	if err != nil {
		return nil, err
	}
	h.offers = h.settings.Layouts > 1
	return h.run(ctx)
}

// Layouts searches as [Place] does and returns the layouts alone. It saves the figures, which take
// most of the fields that the engine itself is asked for. It fails with the context's error if that ends.
func Layouts(ctx context.Context, p *model.Project, e model.Engine, s Settings) ([]model.Layout, error) {
	h, err := newPlacing(p, e, s)
	if err != nil {
		return nil, err
	}
	found, err := h.find(ctx)
	if err == nil && s.Wide != nil {
		found, err = h.refine(ctx, found)
	}
	if err = cmp.Or(err, ctx.Err()); err != nil {
		return nil, err
	}
	list := make([]model.Layout, len(found))
	for i := range found {
		list[i] = found[i].Layout
	}
	return list, nil
}

// newPlacing prepares a search.
func newPlacing(p *model.Project, e model.Engine, s Settings) (*placing, error) {
	s = s.withDefaults()
	b, err := score.NewBand(e, p.Goal)
	if err != nil {
		return nil, err
	}
	problem, err := search.NewProblem(p)
	if err != nil {
		return nil, err
	}
	r := &Result{Engine: e.Info(), Goal: p.Goal, Seed: s.Seed, Warnings: slices.Concat(p.Warnings, e.Warnings(), unmoved(p))}
	h := &placing{Problem: problem, settings: s, exact: b, wide: b, result: r, corrected: concurrent.NewCache[r3.Vec, *score.Scorer](correctedMarks)}
	if s.Wide != nil {
		if h.wide, err = score.NewBand(s.Wide, p.Goal); err != nil {
			return nil, err
		}
		if !slices.Equal(h.wide.Grid(), b.Grid()) {
			panic("optimize: the wide engine's frequencies are not the engine's")
		}
	}
	return h, nil
}

// fastEngine returns the tabulated field of the search, or the engine itself where a table
// would be too large or too inaccurate.
func (h *placing) fastEngine(ctx context.Context) (model.Engine, []model.Warning, error) {
	b, e, s := h.Problem, h.wide, h.settings
	d := b.Domain(s.Displacement, score.LeanDistance)
	t, err := s.tabulate(ctx, e, d, b.Project.Goal)
	var inaccurate *table.Inaccurate
	switch {
	case errors.Is(err, table.ErrTooLarge) && s.Wide != nil:
		return nil, nil, zonesTooLarge(e)
	case errors.Is(err, table.ErrTooLarge) || errors.As(err, &inaccurate):
		b.SeatPitch = s.Displacement
		return e, []model.Warning{model.Remark("the zones are too large to tabulate the field, so the search asks the engine for every place and takes longer")}, nil
	case err != nil:
		return nil, nil, err
	}
	if b.SeatPlaces() > t.SeatsKept() {
		b.SeatPitch = s.Displacement // so that a seat's leans are seats of their own
	}
	t.Keep(b.SeatPlaces())
	return t, nil, nil
}

func zonesTooLarge(e model.Engine) error {
	return fmt.Errorf("the zones are too large to search by the %s engine: give narrower ones, for the speakers and for the seat", e.Info().Kind)
}

// tabulate returns the table for a search, if need be a new one.
func (s *Settings) tabulate(ctx context.Context, b *score.Band, d table.Domain, goal model.Goal) (*table.Engine, error) {
	if t := s.Tables.find(b, d, goal); t != nil {
		return t, nil
	}
	t, err := s.newTable(ctx, b, d, goal)
	if err == nil {
		s.Tables.keep(d, goal, t)
	}
	return t, err
}

// newTable tabulates a field. A wide search's table need not be more accurate than its engine, so it
// is not checked.
func (s *Settings) newTable(ctx context.Context, b *score.Band, d table.Domain, goal model.Goal) (*table.Engine, error) {
	if s.Wide == nil {
		return table.Tabulate(ctx, b, d, goal, s.Progress)
	}
	t := table.Wide(b, d)
	if t == nil {
		return nil, table.ErrTooLarge
	}
	return t, t.Fill(ctx, s.Progress)
}

// breedAndPolish returns the layouts to be shown, and records in the result how the search
// ended.
func (h *placing) breedAndPolish(ctx, always context.Context, g *search.Archive) ([]search.Record, error) {
	b, s, r := h.Problem, h.settings, h.result
	reason, err := b.Breed(ctx, g, search.Settings{
		Seed: s.Seed, Population: s.Population, Generations: s.Generations, StallLimit: s.StallLimit, Until: s.BreedUntil, Always: always, Progress: s.Progress,
	})
	if err != nil {
		return nil, err
	}
	r.Stopped = reason
	nearest := g.Best // decoded, so inside the zones; a polish may leave them
	starts := g.Distinct(4*s.Layouts, s.Apart)
	if ctx.Err() == nil {
		starts, err = b.PolishAll(ctx, g, starts, s.Progress)
		if err != nil && ctx.Err() == nil {
			return nil, err
		}
	}
	if ctx.Err() != nil {
		r.Stopped = search.StopReason(ctx.Err())
	}
	r.Evaluations = g.Legal
	wanted := s.Layouts
	if s.Wide != nil {
		wanted *= refinedPerLayout
	}
	found := search.BestApart(starts, wanted, s.Apart)
	legal := slices.DeleteFunc(slices.Clone(found), func(n search.Record) bool { return n.Score >= search.Illegal })
	switch {
	case len(legal) > 0:
		return legal, nil
	case always.Err() != nil:
		return nil, fmt.Errorf("stopped before anything legal was found: %w", always.Err())
	}
	return nil, search.NewInfeasible(b.Project, nearest.Layout)
}

package optimize

import (
	"cmp"
	"context"
	"errors"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/optimize/score"
	"evenbass/optimize/search"
	"evenbass/optimize/table"

	"gonum.org/v1/gonum/spatial/r3"
)

// placing holds the state of one search, from the first table to the last figure.
type placing struct {
	*search.Problem
	settings    Settings
	exact, wide *score.Band // the same unless there is a wide engine
	result      *Result

	tabulated model.Engine    // what the search reads its levels from
	weighing  *score.Weighing // of the search

	offers     bool           // figures are shown, so that a layout that impairs nothing is sought too
	unimpaired *search.Record // by the search's table; nil if none is wanted, or there is none

	listeners []score.SeatScorer                       // of the other seats, by tables
	corrected *concurrent.Cache[r3.Vec, *score.Scorer] // by mark, see correctedAt
}

// find tabulates the field and returns what the search finds in it.
func (h *placing) find(ctx context.Context) ([]search.Record, error) {
	p, s, r := h.Project, h.settings, h.result
	var warnings []model.Warning
	var err error
	always, release := s.figuresContext(ctx)
	defer release()
	if h.tabulated, warnings, err = h.fastEngine(always); err != nil {
		return nil, err
	}
	r.Warnings = append(r.Warnings, warnings...)
	if h.listeners, err = h.tabulatedSeats(always); err != nil {
		return nil, err
	}
	h.weighing = score.NewWeighing(p, score.NewScorer(h.tabulated, p, s.Displacement).Robust, h.listeners)
	g := search.NewArchive(p, h.weighing.Score)
	found, err := h.breedAndPolish(ctx, always, g)
	if err == nil && h.offers {
		if h.unimpaired, err = h.findUnimpaired(ctx, g, found); ctx.Err() != nil {
			err = nil // what was found before is enough
		}
	}
	if t, ok := h.tabulated.(*table.Engine); ok {
		t.Spare() // the engine's own fields need the memory
	}
	return found, err
}

// run searches and computes what is shown of the layouts.
func (h *placing) run(ctx context.Context) (*Result, error) {
	found, err := h.find(ctx)
	if err != nil {
		return nil, err
	}
	if err = h.refineAndEvaluate(ctx, found); err != nil {
		return h.coarseResult(ctx, found, err)
	}
	if err = h.stopError(ctx); errors.Is(err, context.Canceled) {
		h.result.Stopped = search.Cancelled // so that what is missing is not taken for complete
	}
	return h.result, err
}

// stopError returns the error of the context that ended the search: by hand, which may also
// happen while figures are computed after the deadline, or because the time was used up. It
// is nil if none did.
func (h *placing) stopError(ctx context.Context) error {
	return cmp.Or(h.settings.FiguresUntil.Err(), ctx.Err())
}

// refineAndEvaluate refines what a wide search found, and computes what is shown.
func (h *placing) refineAndEvaluate(ctx context.Context, found []search.Record) error {
	s, r := h.settings, h.result
	if s.Wide != nil {
		refined, err := h.refine(ctx, found)
		switch {
		case err == nil:
			found = refined
		case errors.Is(ctx.Err(), context.DeadlineExceeded):
			r.Stopped = search.OutOfTime
			found = found[:min(len(found), s.Layouts)]
		default:
			return err
		}
	} else if n := h.unimpaired; n != nil {
		others, _ := h.without(found, n.Layout)
		found = append(others, *n)
	}
	rest, release := s.figuresContext(ctx)
	defer release()
	err := r.evaluateAll(rest, h.Project, h.exact, found, s)
	if err != nil {
		return err
	}
	r.Front, err = h.front(ctx, rest)
	if err != nil && rest.Err() != nil {
		r.Stopped, err = search.Cancelled, nil // the layouts are complete
	}
	return err
}

// coarseResult returns the best layout of a wide search with the figures of the wide engine.
// It serves a search that was stopped before the accurate engine had any figures; failed is
// the error that the stop caused.
func (h *placing) coarseResult(ctx context.Context, found []search.Record, failed error) (*Result, error) {
	if h.settings.Wide == nil || ctx.Err() == nil {
		return nil, failed
	}
	r := h.result
	c, err := h.wide.Candidate(context.WithoutCancel(ctx), h.Project, found[0].Layout, h.settings.Displacement)
	if err != nil {
		return nil, err
	}
	r.Candidates, r.Now, r.Front, r.Steps = []score.Candidate{c}, nil, nil, nil
	r.Stopped = search.StopReason(h.stopError(ctx))
	r.Warnings = append(r.Warnings, model.Remark("the search was stopped before it came to the fine grid: the figures are those of the coarse one, and may be off by a decibel"))
	return r, h.stopError(ctx)
}

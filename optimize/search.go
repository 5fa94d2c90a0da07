package optimize

import (
	"cmp"
	"context"
	"errors"
	"sync"

	"evenbass/model"
)

// hunt is one search from the first table to the last figure.
type hunt struct {
	*problem
	settings    Settings
	exact, wide *banded // the same unless a wide engine is set
	result      *Result

	fast     model.Engine // what the search reads its levels off
	weighing *weighing    // of the search

	// finer returns the listeners of a wide search, set right by the engine.
	finer func() ([]listener, error)
}

func (h *hunt) run(ctx context.Context) (*Result, error) {
	p, s, r := h.project, h.settings, h.result
	var doubts []model.Warning
	var err error
	if h.fast, doubts, err = h.fastEngine(ctx, h.wide, s); err != nil {
		return nil, err
	}
	r.Warnings = append(r.Warnings, doubts...)
	listeners, doubts, err := h.fastListeners(ctx, h.wide, s)
	if err != nil {
		return nil, err
	}
	r.Warnings = append(r.Warnings, doubts...)
	h.finer = sync.OnceValues(func() ([]listener, error) { return h.corrected(listeners, h.exact) })
	h.weighing = newWeighing(p, newScorer(h.fast, p.Goal, s.Displacement, p.Room.Size).robust, listeners)
	found, err := h.search(ctx, newLedger(p, h.weighing.score), s, r)
	if err != nil {
		return nil, err
	}
	if err = h.conclude(ctx, found); err != nil {
		return h.hasty(ctx, found, err)
	}
	return r, h.ended(ctx)
}

// ended returns why a search was ended from outside: by hand, even while the figures of one
// whose time was used up were computed, or for want of time. It is nil if it was not.
func (h *hunt) ended(ctx context.Context) error { return cmp.Or(h.settings.After.Err(), ctx.Err()) }

// conclude refines what was found, if the search was wide, and computes what is shown.
func (h *hunt) conclude(ctx context.Context, found []note) error {
	s, r := h.settings, h.result
	if s.Wide != nil {
		refined, err := h.refine(ctx, found)
		switch {
		case err == nil:
			found = refined
		case errors.Is(ctx.Err(), context.DeadlineExceeded):
			r.Stopped = OutOfTime
			found = found[:min(len(found), s.Layouts)]
		default:
			return err
		}
	}
	rest, release := s.figuring(ctx)
	defer release()
	exact, err := newBanded(bound(rest, h.exact.Engine), h.project.Goal)
	if err != nil {
		return err
	}
	if err = r.finish(rest, h.project, exact, found, s); err != nil {
		return err
	}
	r.Front, err = h.front(ctx, exact)
	if err != nil && rest.Err() != nil {
		r.Stopped, err = Cancelled, nil // the layouts are there
	}
	return err
}

// hasty is for a wide search that was stopped while it was being concluded, with the
// error that this made: it offers the best layout found by the wide engine, whose
// figures take a moment.
func (h *hunt) hasty(ctx context.Context, found []note, failed error) (*Result, error) {
	if h.settings.Wide == nil || ctx.Err() == nil {
		return nil, failed
	}
	r := h.result
	b, err := newBanded(bound(context.WithoutCancel(ctx), h.settings.Wide), h.project.Goal)
	if err != nil {
		return nil, err
	}
	c, err := evaluate(h.project, b, found[0].layout, h.settings)
	if err != nil {
		return nil, err
	}
	r.Candidates, r.Now, r.Front, r.Steps = []Candidate{c}, nil, nil, nil
	r.Stopped = reasonOf(h.ended(ctx))
	r.Warnings = append(r.Warnings, "the search was stopped before it came to the fine grid: the figures are those of the coarse one, and may be off by a decibel")
	return r, h.ended(ctx)
}

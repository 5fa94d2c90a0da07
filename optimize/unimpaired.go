package optimize

import (
	"context"
	"slices"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/model/response"
	"evenbass/optimize/geometry"
	"evenbass/optimize/score"
	"evenbass/optimize/search"
)

// A layout that impairs nothing is sought among the best of so many neighbourhoods, of a size in m. It may impair a
// share of what a listener notices: the rest is left for errors of tables. The best, so many, are polished.
const (
	neighbourhoods    = 160
	neighbourhoodSize = 0.08
	allowedShare      = 0.9
	unimpairedStarts  = 8
)

// impairing is larger than any score in dB and smaller than [search.Illegal]. A layout that impairs figures beyond
// what is allowed scores that and its impairment, so that any that does not is better.
const impairing = search.Illegal / 2

// readCriteria reads off an engine what decides between two layouts, without decays.
func readCriteria(ctx context.Context, s *score.Scorer, others []score.SeatScorer, l model.Layout) (score.Criteria, error) {
	pair, err := s.Pair(ctx, l)
	if err != nil {
		return score.Criteria{}, err
	}
	c := score.Criteria{Card: response.Ranged{Card: s.Reader.Card(pair, nil)}}
	if len(others) == 0 {
		return c, nil
	}
	c.Seats = []score.SeatFigures{{Spread: c.Card.Spread}}
	for i := range others {
		spread, err := others[i].Scorer.PlainAt(ctx, others[i].Places(l)[0], l)
		if err != nil {
			return score.Criteria{}, err
		}
		c.Seats = append(c.Seats, score.SeatFigures{Spread: spread})
	}
	return c, nil
}

// exactCriteria is readCriteria by the engine itself, which keeps what the figures of the layout take.
func (h *placing) exactCriteria(ctx context.Context, l model.Layout) (score.Criteria, error) {
	b, err := h.exact.Near(ctx, l, h.Project)
	if err != nil {
		return score.Criteria{}, err
	}
	return readCriteria(ctx, score.NewScorer(b.Engine, h.Project, h.settings.Displacement), score.SeatScorers(h.Project, b), l)
}

// unimpairedScore returns a score by which layouts that impair nothing of now come first, see impairing.
func unimpairedScore(rate spreadOf, s *score.Scorer, others []score.SeatScorer, now *score.Criteria) spreadOf {
	return func(ctx context.Context, l model.Layout) (model.Level, error) {
		c, err := readCriteria(ctx, s, others, l)
		if err != nil {
			return 0, err
		}
		least := response.Noticeable(now.Card.Card, c.Card.Card)
		for f := range least {
			least[f] *= allowedShare
		}
		if worse := score.Impairment(now, &c, least); worse > 0 {
			return impairing + model.Level(min(worse, impairing-1)), nil
		}
		return rate(ctx, l)
	}
}

// findUnimpaired looks for a layout that impairs nothing, see [score.Unimpaired], where the best of those found
// impairs something, beginning with what the search has tried. It returns nil if there is none, if nothing stands
// yet, or once the context has ended.
func (h *placing) findUnimpaired(ctx context.Context, g *search.Archive, found []search.Record) (*search.Record, error) {
	at, stands := h.Project.Now()
	if !stands || ctx.Err() != nil {
		return nil, nil
	}
	s := score.NewScorer(h.tabulated, h.Project, h.settings.Displacement)
	now, err := readCriteria(ctx, s, h.listeners, at)
	if err != nil {
		return nil, err
	}
	read := func(l model.Layout) (score.Criteria, error) { return readCriteria(ctx, s, h.listeners, l) }
	if c, err := read(found[0].Layout); err != nil || score.Unimpaired(&now, &c) {
		return nil, err
	}
	rate := func(ctx context.Context, l model.Layout) (model.Level, error) {
		v, err := g.Rate(ctx, l)
		return model.Level(v), err
	}
	archive := search.NewArchive(h.Project, unimpairedScore(rate, s, h.listeners, &now))
	starts := g.Distinct(neighbourhoods, neighbourhoodSize)
	err = concurrent.Each(len(starts), func(i int) (err error) {
		starts[i].Score, err = archive.Rate(ctx, starts[i].Layout)
		return err
	})
	if err != nil {
		return nil, err
	}
	ends, err := h.PolishAll(ctx, archive, search.BestApart(starts, unimpairedStarts, neighbourhoodSize), nil)
	if err != nil {
		return nil, err
	}
	h.result.Evaluations = g.Legal
	slices.SortFunc(ends, search.Record.Compare)
	for _, n := range ends {
		gains, err := gains(n, found[:min(len(found), h.settings.Layouts)], &now, read)
		if err != nil {
			return nil, err
		}
		if gains {
			return &n, nil
		}
	}
	return nil, nil
}

// gains reports whether a layout relieves the first of a list of what it impairs, see [score.Relieves], and each of the
// list that does so too scores worse by as much as a listener notices.
func gains(other search.Record, list []search.Record, now *score.Criteria, read func(model.Layout) (score.Criteria, error)) (bool, error) {
	all := append(slices.Clip(list), other)
	criteria := make([]score.Criteria, len(all))
	err := concurrent.Each(len(all), func(i int) (err error) {
		criteria[i], err = read(all[i].Layout)
		return err
	})
	if err != nil || !score.Relieves(now, &criteria[0], &criteria[len(list)]) {
		return false, err
	}
	for i, n := range list {
		if score.Relieves(now, &criteria[0], &criteria[i]) && n.Score < other.Score+LeastGain {
			return false, nil
		}
	}
	return true, nil
}

// without returns a list of layouts, the best first, with a place left for another one, and what had to make room
// for it: one that the other is a neighbour of, but for the best, or else the last of a full list.
func (h *placing) without(list []search.Record, l model.Layout) (rest, dropped []search.Record) {
	at := min(len(list), h.settings.Layouts-1)
	for i := len(list) - 1; i > 0; i-- {
		if geometry.Apart(list[i].Layout, l) < h.settings.Apart-1e-9 {
			at = i
		}
	}
	end := min(at+1, len(list))
	return slices.Concat(list[:at], list[end:]), list[at:end]
}

// settleUnimpaired settles layouts with the one that impairs nothing in its place among them. By the accurate engine
// it must still gain what it is there for; else the list is settled as it was.
func (f *refinement) settleUnimpaired(ctx context.Context, list []search.Record) ([]search.Record, error) {
	s := f.settings
	at, _ := f.Project.Now()
	now, err := f.exactCriteria(ctx, at)
	if err != nil {
		return nil, err
	}
	rest, dropped := f.without(list, f.unimpaired.Layout)
	last, err := f.each(append(rest, *f.unimpaired), func(i int, n search.Record) (search.Record, error) {
		if i == len(rest) {
			return f.settle(ctx, n, &now)
		}
		return f.settle(ctx, n, nil)
	})
	if err != nil {
		return nil, err
	}
	last, other := last[:len(rest)], last[len(rest)]
	needed, err := gains(other, last, &now, func(l model.Layout) (score.Criteria, error) { return f.exactCriteria(ctx, l) })
	switch {
	case err != nil:
		return nil, err
	case needed:
		return append(search.BestApart(last, s.Layouts, s.Apart), other), nil
	}
	for _, n := range dropped {
		end, err := f.settle(ctx, n, nil)
		if err != nil {
			return nil, err
		}
		last = append(last, end)
	}
	return search.BestApart(last, s.Layouts, s.Apart), nil
}

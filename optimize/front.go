package optimize

import (
	"cmp"
	"context"
	"math"
	"slices"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/optimize/geometry"
	"evenbass/optimize/score"
	"evenbass/optimize/search"
)

// FrontPoint is a layout that no other one found beats both at the main seat and at the
// others.
type FrontPoint struct {
	Layout model.Layout
	Main   model.Level // the robust spread at the main seat, dB
	Rest   model.Level // what counts at the others, weighted average, dB
}

// frontPoints is how many points a front is thinned to, and wideFrontPoints how many where
// each costs a run of an expensive engine. Candidates are added to these.
const (
	frontPoints     = 7
	wideFrontPoints = 6
)

// frontShares are the weights of the main seat that the front is sought with, beside the
// project's own.
var frontShares = [...]float64{1, 0.75, 0.5, 0.25, 0}

// front returns the trade-off between the main seat and the others. It takes all layouts
// that the search has tried, and more that it polishes with other weights, and keeps those
// that no other one beats at both, the best for the main seat first. Candidates keep their
// figures; the figures of the others are the engine's own. With a wide engine, the displaced
// ears in a layout that is no candidate come from that engine, corrected at the seat. It is
// nil if only the main seat counts, or once the context has ended; figures go on until rest ends.
func (h *placing) front(ctx, rest context.Context) ([]FrontPoint, error) {
	w := h.weighing
	if w.Alone() || ctx.Err() != nil {
		return nil, nil
	}
	starts, b := score.Balances(w), h.Problem
	if len(starts) == 0 {
		return nil, nil
	}
	err := concurrent.Each(len(frontShares), func(i int) error {
		share := frontShares[i]
		g := search.NewArchive(b.Project, func(ctx context.Context, l model.Layout) (model.Level, error) {
			found, err := w.Balance(ctx, l)
			return model.Level(found.Weigh(share)), err
		})
		at := slices.MinFunc(starts, func(x, y score.Weighed) int {
			return cmp.Or(cmp.Compare(x.Weigh(share), y.Weigh(share)), geometry.CompareLayouts(x.Layout, y.Layout))
		})
		_, err := b.Polish(ctx, g, search.Record{Layout: at.Layout, Score: at.Weigh(share)})
		return err
	})
	if err != nil {
		if ctx.Err() != nil {
			return nil, nil
		}
		return nil, err
	}
	e := h.exact
	most, main, others := frontPoints, score.NewScorer(e, b.Project, h.settings.Displacement).Robust, score.SeatScorers(b.Project, e)
	if h.settings.Wide != nil {
		most = wideFrontPoints
		main = func(ctx context.Context, l model.Layout) (model.Level, error) { return h.robustAbout(ctx, e, l) }
		others = h.seatsAnywhere()
	}
	var offered []score.Weighed
	for _, c := range h.result.Candidates {
		offered = append(offered, score.Weighed{Layout: c.Layout, Balance: c.Balance()})
	}
	points := thin(undominated(score.Balances(w)), most, offered)
	return exactFront(rest, score.NewWeighing(b.Project, main, others), points, offered)
}

// robustAbout returns the robust spread of a layout by the wide engine's table, corrected at
// the layout's seat.
func (h *placing) robustAbout(ctx context.Context, e *score.Band, l model.Layout) (model.Level, error) {
	s, err := h.correctedAbout(ctx, e, l.Seat)
	if err != nil {
		return 0, err
	}
	return s.Robust(ctx, l)
}

// undominated returns those of layouts in order of the main seat to which no other is equal
// or better at both.
func undominated(all []score.Weighed) []score.Weighed {
	var kept []score.Weighed
	best := math.Inf(1)
	for _, w := range all {
		if w.Rest < best {
			kept, best = append(kept, w), w.Rest
		}
	}
	return kept
}

// thin keeps about n points of a front: both ends, the layouts offered, and, again and
// again, the one farthest from those kept and from what is offered.
func thin(front []score.Weighed, n int, offered []score.Weighed) []score.Weighed {
	if len(front) <= n {
		return front
	}
	last := len(front) - 1
	kept := []int{0, last}
	for _, o := range offered {
		if i := slices.IndexFunc(front, func(w score.Weighed) bool { return w.Layout == o.Layout }); i > 0 && i < last {
			kept = append(kept, i)
		}
	}
	for len(kept) < n {
		far, widest := 0, 0.0
		for i := range front {
			nearest := math.Inf(1)
			for _, k := range kept {
				nearest = min(nearest, front[i].Away(front[k].Balance))
			}
			for _, o := range offered {
				nearest = min(nearest, front[i].Away(o.Balance))
			}
			if nearest > widest {
				far, widest = i, nearest
			}
		}
		if widest == 0 {
			break
		}
		kept = append(kept, far)
	}
	slices.Sort(kept)
	var points []score.Weighed
	for _, k := range kept {
		points = append(points, front[k])
	}
	return points
}

// nearlyEqual is how near two points of a front may be, dB, before one of them is redundant.
const nearlyEqual = 0.25

// spaced leaves out what is nearly equal to a neighbour on a front, except the ends and what
// is offered.
func spaced(front, offered []score.Weighed) []score.Weighed {
	var kept []score.Weighed
	needed := func(i int) bool {
		return i == 0 || i == len(front)-1 ||
			slices.ContainsFunc(offered, func(o score.Weighed) bool { return o.Layout == front[i].Layout })
	}
	for i, w := range front {
		if !needed(i) {
			next := i + 1
			for !needed(next) {
				next++
			}
			if min(w.Away(kept[len(kept)-1].Balance), w.Away(front[next].Balance)) < nearlyEqual {
				continue
			}
		}
		kept = append(kept, w)
	}
	return kept
}

// exactFront weighs the points of a front again, except candidates, adds all candidates, and
// drops those that are then beaten or nearly equal to another.
func exactFront(ctx context.Context, w *score.Weighing, points, candidates []score.Weighed) ([]FrontPoint, error) {
	w.Remember(candidates)
	err := concurrent.Each(len(points), func(i int) error {
		_, err := w.Balance(ctx, points[i].Layout)
		return err
	})
	if err != nil {
		return nil, err
	}
	var front []FrontPoint
	for _, w := range spaced(undominated(score.Balances(w)), candidates) {
		front = append(front, FrontPoint{w.Layout, model.Level(w.Main), model.Level(w.Rest)})
	}
	return front, nil
}

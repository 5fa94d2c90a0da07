package optimize

import (
	"cmp"
	"context"
	"math"
	"slices"

	"evenbass/model"
)

// FrontPoint is a layout that no other one found beats at the main seat without
// losing at the others.
type FrontPoint struct {
	Layout model.Layout
	Main   model.Level // the robust spread at the main seat, dB
	Rest   model.Level // what counts at the others, on their weighted average, dB
}

// frontPoints is how many points a front is thinned to.
const frontPoints = 7

// frontShares are the main seat's shares by which the front is looked for beside
// the project's own weights.
var frontShares = [...]float64{1, 0.75, 0.5, 0.25, 0}

// front returns the trade-off between the main seat and the others: of all layouts
// that the search has tried, and of more that it walks to with other weights, those
// that no other one beats at both, the best for the main seat first. The figures are
// the engine's own. It is nil if only the main seat counts.
func (b *problem) front(ctx context.Context, e *banded, w *weighing, offered []note, s Settings) ([]FrontPoint, error) {
	if w.alone() || ctx.Err() != nil {
		return nil, nil
	}
	starts := b.balances(w)
	if len(starts) == 0 {
		return nil, nil
	}
	err := parallel(len(frontShares), func(i int) error {
		share := frontShares[i]
		g := newLedger(b.project, func(l model.Layout) (model.Level, error) {
			found, err := w.balance(l)
			return model.Level(found.weigh(share)), err
		})
		at := slices.MinFunc(starts, func(x, y weighed) int {
			return cmp.Or(cmp.Compare(x.weigh(share), y.weigh(share)), note{x.layout, 0}.compare(note{y.layout, 0}))
		})
		_, err := b.polish(ctx, g, note{at.layout, at.weigh(share)})
		return err
	})
	if err != nil {
		if ctx.Err() != nil {
			return nil, nil
		}
		return nil, err
	}
	points := thin(undominated(b.balances(w)), frontPoints, offered)
	for _, o := range offered { // a refined layout has not been weighed
		if !slices.ContainsFunc(points, func(w weighed) bool { return w.layout == o.layout }) {
			points = append(points, weighed{layout: o.layout})
		}
	}
	return b.exactFront(e, points, s)
}

// weighed is a layout with what it gives the seats.
type weighed struct {
	layout model.Layout
	balance
}

// balances returns all legal layouts that have been weighed, in an order that does
// not depend on who came first.
func (b *problem) balances(w *weighing) []weighed {
	w.mu.Lock()
	defer w.mu.Unlock()
	all := make([]weighed, 0, len(w.seen))
	for l, v := range w.seen {
		all = append(all, weighed{l, v})
	}
	slices.SortFunc(all, func(x, y weighed) int {
		return cmp.Or(cmp.Compare(x.main, y.main), cmp.Compare(x.rest, y.rest), note{x.layout, 0}.compare(note{y.layout, 0}))
	})
	return all
}

// undominated returns those of layouts in order of the main seat that no other is as
// good as or better than for both.
func undominated(all []weighed) []weighed {
	var kept []weighed
	best := math.Inf(1)
	for _, w := range all {
		if w.rest < best {
			kept, best = append(kept, w), w.rest
		}
	}
	return kept
}

// thin keeps about n points of a front: both ends, the layouts that are offered, and,
// again and again, the one that is farthest from those kept.
func thin(front []weighed, n int, offered []note) []weighed {
	if len(front) <= n {
		return front
	}
	last := len(front) - 1
	kept := []int{0, last}
	for _, o := range offered {
		if i := slices.IndexFunc(front, func(w weighed) bool { return w.layout == o.layout }); i > 0 && i < last {
			kept = append(kept, i)
		}
	}
	for len(kept) < n {
		far, widest := 0, -1.0
		for i := range front {
			nearest := math.Inf(1)
			for _, k := range kept {
				nearest = min(nearest, math.Hypot(front[i].main-front[k].main, front[i].rest-front[k].rest))
			}
			if nearest > widest {
				far, widest = i, nearest
			}
		}
		kept = append(kept, far)
	}
	slices.Sort(kept)
	var points []weighed
	for _, k := range kept {
		points = append(points, front[k])
	}
	return points
}

// exactFront weighs the points of a front again by the engine itself and drops those
// that then are beaten.
func (b *problem) exactFront(e *banded, points []weighed, s Settings) ([]FrontPoint, error) {
	main := func(l model.Layout) (model.Level, error) {
		near, err := e.near(l, b.project.Goal)
		if err != nil {
			return 0, err
		}
		return newScorer(near, b.project.Goal, s.Displacement, b.project.Room.Size).robust(l)
	}
	exact := newWeighing(b.project, main, listeners(b.project, e))
	err := parallel(len(points), func(i int) error {
		_, err := exact.balance(points[i].layout)
		return err
	})
	if err != nil {
		return nil, err
	}
	var front []FrontPoint
	for _, w := range undominated(b.balances(exact)) {
		front = append(front, FrontPoint{w.layout, model.Level(w.main), model.Level(w.rest)})
	}
	return front, nil
}

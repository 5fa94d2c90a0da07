package optimize

import (
	"cmp"
	"context"
	"math"
	"slices"
	"sync/atomic"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/optimize/score"
	"evenbass/optimize/search"

	"gonum.org/v1/gonum/spatial/r3"
)

// correctedEngine is a coarse engine corrected at one seat: to every answer it adds the
// difference between the accurate engine and the coarse one, at that seat from the same
// source. The difference is small and changes slowly with the seat. At the seat itself no
// error is left, and a few centimetres away little.
type correctedEngine struct {
	model.Engine
	accurateAt, coarseAt model.Field
	differences          *concurrent.Cache[r3.Vec, []complex128] // differences by source
}

// differencesKept is how many differences a corrected engine remembers, about 3 kB each.
const differencesKept = 2000

// correct corrects the coarse engine at a seat, which takes one field of the accurate one.
func correct(ctx context.Context, coarse, accurate model.Engine, seat r3.Vec) (*correctedEngine, error) {
	c := &correctedEngine{Engine: coarse, differences: concurrent.NewCache[r3.Vec, []complex128](differencesKept)}
	var err error
	if c.accurateAt, err = accurate.Field(ctx, seat); err != nil {
		return nil, err
	}
	c.coarseAt, err = coarse.Field(ctx, seat)
	return c, err
}

// Field implements [model.Engine].
func (c *correctedEngine) Field(ctx context.Context, seat r3.Vec) (model.Field, error) {
	f, err := c.Engine.Field(ctx, seat)
	return correctedField{f, c}, err
}

type correctedField struct {
	coarse model.Field
	*correctedEngine
}

// Transfer implements [model.Field].
func (f correctedField) Transfer(dst []complex128, source r3.Vec) []complex128 {
	dst = f.coarse.Transfer(dst, source)
	more, _ := f.differences.Get(source, func() ([]complex128, error) {
		difference := f.accurateAt.Transfer(nil, source)
		for i, v := range f.coarseAt.Transfer(nil, source) {
			difference[i] -= v
		}
		return difference, nil
	})
	for i, v := range more {
		dst[i] += v
	}
	return dst
}

// refinement improves the finds of a wide search with the accurate engine.
type refinement struct {
	*placing
	next  func()
	tried atomic.Int64 // layouts scored
}

// The polish with the accurate engine ends after rounds of one field each, or when the seat
// moves by less than settled, m, over which a correction stays good.
const (
	rounds  = 4
	settled = 0.015
)

// refinedPerLayout is how many finds of the wide search the accurate engine examines for
// each layout wanted.
const refinedPerLayout = 2

// refine ranks the finds of a wide search again with the accurate engine and polishes the
// best of them with it, until each is a local optimum. It records in the result how far off
// the wide search was.
func (h *placing) refine(ctx context.Context, found []search.Record) ([]search.Record, error) {
	s, r := h.settings, h.result
	f := &refinement{placing: h}
	var beside concurrent.Group
	defer beside.Wait()
	beside.Go(func() { _, _ = h.seatsAbout(ctx, found[0].Layout) }) // whoever needs them meets an error again
	f.next = s.Progress.Counter(Refining, len(found)+s.Layouts)
	off := make([]float64, len(found))
	first, err := f.each(found, func(i int, n search.Record) (search.Record, error) {
		end, at, err := f.round(ctx, n, nil)
		off[i] = at - n.Score
		return end, err
	})
	if err != nil {
		return nil, err
	}
	last, err := f.settleAll(ctx, search.BestApart(first, s.Layouts, s.Apart))
	if err != nil {
		return nil, err
	}
	r.Evaluations += int(f.tried.Load())
	if worst := math.Abs(slices.MaxFunc(off, func(a, b float64) int { return cmp.Compare(math.Abs(a), math.Abs(b)) })); worst > 1 {
		r.Warnings = append(r.Warnings, model.SearchOff{Off: model.Level(worst)})
	}
	return last, nil
}

// each applies some work to all records, on all cores.
func (f *refinement) each(notes []search.Record, work func(int, search.Record) (search.Record, error)) ([]search.Record, error) {
	ends := make([]search.Record, len(notes))
	err := concurrent.Each(len(notes), func(i int) error {
		var err error
		ends[i], err = work(i, notes[i])
		f.next()
		return err
	})
	return ends, err
}

// round polishes a layout on the wide search's table corrected at its seat, which takes one
// field of the accurate engine. It returns the end of the polish and the score of the layout
// itself. If now is given, layouts that impair nothing of it come first, see [unimpairedScore].
func (f *refinement) round(ctx context.Context, from search.Record, now *score.Criteria) (end search.Record, at float64, err error) {
	p := f.Project
	main, err := f.correctedAbout(ctx, f.exact, from.Layout.Seat)
	if err != nil {
		return from, 0, err
	}
	others, err := f.seatsAbout(ctx, from.Layout)
	if err != nil {
		return from, 0, err
	}
	rate := score.NewWeighing(p, main.Robust, others).Score
	if now != nil {
		rate = unimpairedScore(rate, main, others, now)
	}
	g := search.NewArchive(p, rate)
	if at, err = g.Rate(ctx, from.Layout); err != nil {
		return from, 0, err
	}
	end, err = f.Polish(ctx, g, search.Record{Layout: from.Layout, Score: at})
	f.tried.Add(int64(g.Legal))
	return end, at, err
}

// correctedAbout returns a scorer by the wide search's table, corrected by an engine at a
// seat.
func (h *placing) correctedAbout(ctx context.Context, e model.Engine, seat r3.Vec) (*score.Scorer, error) {
	c, err := correct(ctx, h.tabulated, e, seat)
	if err != nil {
		return nil, err
	}
	return score.NewScorer(c, h.Project, h.settings.Displacement), nil
}

// settleAll settles layouts, and the one that impairs nothing beside them.
func (f *refinement) settleAll(ctx context.Context, list []search.Record) ([]search.Record, error) {
	if f.unimpaired != nil {
		return f.settleUnimpaired(ctx, list)
	}
	last, err := f.each(list, func(_ int, n search.Record) (search.Record, error) { return f.settle(ctx, n, nil) })
	return search.BestApart(last, f.settings.Layouts, f.settings.Apart), err
}

// settle polishes a layout round by round until its seat hardly moves.
func (f *refinement) settle(ctx context.Context, n search.Record, now *score.Criteria) (search.Record, error) {
	for range rounds - 1 {
		end, _, err := f.round(ctx, n, now)
		if err != nil {
			return n, err
		}
		moved := model.Plan(end.Layout.Seat, n.Layout.Seat)
		if n = end; moved < settled {
			break
		}
	}
	return n, nil
}

package optimize

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"sync"
	"sync/atomic"

	"evenbass/model"
	"gonum.org/v1/gonum/spatial/r3"
)

// corrected is a cheap engine set right about one seat: to every answer it adds what
// the dear engine gives at that seat from the same source more than the cheap one.
// The difference is small and changes slowly with the seat, so that what is left at a
// seat some centimetres off is smaller still; at the seat itself nothing is left.
type corrected struct {
	model.Engine
	exact, rough model.Field
	known        *cache[r3.Vec, []complex128] // differences by source
}

// differencesKept is how many differences a corrected engine remembers, some 3 kB each.
const differencesKept = 2000

// correct asks the dear engine for the field of one seat.
func correct(cheap, dear model.Engine, seat r3.Vec) (*corrected, error) {
	c := &corrected{Engine: cheap, known: newCache[r3.Vec, []complex128](differencesKept)}
	var err error
	if c.exact, err = dear.Field(seat); err != nil {
		return nil, err
	}
	c.rough, err = cheap.Field(seat)
	return c, err
}

// Field implements [model.Engine].
func (c *corrected) Field(seat r3.Vec) (model.Field, error) {
	f, err := c.Engine.Field(seat)
	return correctedField{f, c}, err
}

type correctedField struct {
	cheap model.Field
	*corrected
}

// Transfer implements [model.Field].
func (f correctedField) Transfer(dst []complex128, source r3.Vec) []complex128 {
	dst = f.cheap.Transfer(dst, source)
	more, _ := f.known.get(source, func() ([]complex128, error) {
		return less(f.exact.Transfer(nil, source), f.rough.Transfer(nil, source)), nil
	})
	for i, v := range more {
		dst[i] += v
	}
	return dst
}

// refinement carries what a wide search has found over to the dear engine.
type refinement struct {
	*hunt
	progress func()
	tried    atomic.Int64 // layouts scored
}

// Where the polish by the dear engine ends: after rounds of one field each, or when the
// seat has moved by less than settled in m, over which a correction stays good.
const (
	rounds  = 4
	settled = 0.015
)

// refinedPerLayout is how many finds of the wide search are looked at by the dear
// engine for each layout wanted.
const refinedPerLayout = 2

// refine ranks the finds of a wide search again by the dear engine and polishes the best of them
// on it, until each is a local optimum there. It says in the result how far off the
// wide search was.
func (h *hunt) refine(ctx context.Context, found []note) ([]note, error) {
	s, r := h.settings, h.result
	f := &refinement{hunt: h}
	var beside sync.WaitGroup
	defer beside.Wait()
	beside.Go(func() { _, _ = h.finer() }) // what fails there fails again when it is asked for
	var done atomic.Int64
	f.progress = func() { s.Progress(int(done.Add(1)), len(found)+s.Layouts, Refining) }
	off := make([]float64, len(found))
	first, err := f.each(found, func(i int, n note) (note, error) {
		end, at, err := f.round(ctx, n)
		off[i] = at - n.score
		return end, err
	})
	if err != nil {
		return nil, err
	}
	last, err := f.each(clearing(first, s.Layouts, s.Apart), func(_ int, n note) (note, error) { return f.settle(ctx, n) })
	if err != nil {
		return nil, err
	}
	r.Evaluations += int(f.tried.Load())
	if worst := math.Abs(slices.MaxFunc(off, func(a, b float64) int { return cmp.Compare(math.Abs(a), math.Abs(b)) })); worst > 1 {
		r.Warnings = append(r.Warnings, model.Warning(fmt.Sprintf(
			"the wide search, which is coarser than the figures shown, was up to %.1f dB off for the layouts that it proposed, so it may have passed over a good one", worst)))
	}
	return clearing(last, s.Layouts, s.Apart), nil
}

// each does some work for all notes, on all cores.
func (f *refinement) each(notes []note, work func(int, note) (note, error)) ([]note, error) {
	ends := make([]note, len(notes))
	err := parallel(len(notes), func(i int) error {
		var err error
		ends[i], err = work(i, notes[i])
		f.progress()
		return err
	})
	return ends, err
}

// round polishes a layout on the wide search's table, set right about its seat, which
// takes one field of the dear engine. It returns where that leads, and the score of the
// layout itself.
func (f *refinement) round(ctx context.Context, from note) (end note, at float64, err error) {
	p := f.project
	main, err := f.about(f.exact, from.layout.Seat)
	if err != nil {
		return from, 0, err
	}
	others, err := f.finer()
	if err != nil {
		return from, 0, err
	}
	g := newLedger(p, newWeighing(p, main.robust, others).score)
	if at, err = g.rate(from.layout); err != nil {
		return from, 0, err
	}
	end, err = f.polish(ctx, g, note{from.layout, at})
	f.tried.Add(int64(g.lawful))
	return end, at, err
}

// about returns a scorer by the wide search's table, set right by an engine about a seat.
func (h *hunt) about(e model.Engine, seat r3.Vec) (*scorer, error) {
	c, err := correct(h.fast, e, seat)
	if err != nil {
		return nil, err
	}
	return newScorer(c, h.project.Goal, h.settings.Displacement, h.project.Room.Size), nil
}

// settle polishes a layout round by round until its seat hardly moves any more.
func (f *refinement) settle(ctx context.Context, n note) (note, error) {
	for range rounds - 1 {
		end, _, err := f.round(ctx, n)
		if err != nil {
			return n, err
		}
		moved := model.Plan(end.layout.Seat, n.layout.Seat)
		if n = end; moved < settled {
			break
		}
	}
	return n, nil
}

// binder is an engine that can be bound to a context, so that it stops when that ends.
type binder interface {
	WithContext(context.Context) model.Engine
}

// bound returns the engine bound to the context, if it can be.
func bound(ctx context.Context, e model.Engine) model.Engine {
	if b, ok := e.(binder); ok {
		return b.WithContext(ctx)
	}
	return e
}

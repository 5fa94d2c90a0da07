package optimize

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/optimize/geometry"
	"evenbass/optimize/score"
	"evenbass/optimize/table"
)

// Place searches for the best places of the pair and the main seat. The result holds one to
// five legal layouts, the best first, each a local optimum on the lattice, and the present
// layout if there is one.
//
// If nothing fits, the error is an [*Infeasible]. If the context ends, Place returns the best
// so far with Stopped Cancelled or OutOfTime, together with the context's error; if it had
// found nothing legal, the result is nil. Stopped by hand, it returns the best layout and
// those others whose figures are complete. With a wide engine set and no figures yet, it
// returns the best layout alone, with the figures of that engine.
func Place(ctx context.Context, p *model.Project, e model.Engine, s Settings) (*Result, error) {
	s = s.withDefaults()
	b, err := score.NewBand(e, p.Goal)
	if err != nil {
		return nil, err
	}
	problem, err := newProblem(p)
	if err != nil {
		return nil, err
	}
	r := &Result{Engine: e.Info(), Goal: p.Goal, Seed: s.Seed, Warnings: slices.Concat(p.Warnings, e.Warnings(), unmoved(p))}
	h := &search{problem: problem, settings: s, exact: b, wide: b, result: r, corrected: concurrent.NewCache[struct{}, []score.SeatScorer](1)}
	if s.Wide != nil {
		if h.wide, err = score.NewBand(s.Wide, p.Goal); err != nil {
			return nil, err
		}
		if !slices.Equal(h.wide.Grid(), b.Grid()) {
			panic("optimize: the wide engine's frequencies are not the engine's")
		}
	}
	return h.run(ctx)
}

// fastEngine returns the tabulated field of a problem, or the engine itself where a table
// would be too large or too inaccurate.
func (b *problem) fastEngine(ctx context.Context, e *score.Band, s Settings) (model.Engine, []model.Warning, error) {
	d := b.domain(s.Displacement)
	t, err := s.tabulate(ctx, e, d, b.project.Goal)
	var inaccurate *table.Inaccurate
	switch {
	case errors.Is(err, table.ErrTooLarge) && s.Wide != nil:
		return nil, nil, zonesTooLarge(e)
	case errors.Is(err, table.ErrTooLarge) || errors.As(err, &inaccurate):
		b.seatPitch = s.Displacement
		return e, []model.Warning{model.Remark("the zones are too large to tabulate the field, so the search asks the engine for every place and takes longer")}, nil
	case err != nil:
		return nil, nil, err
	}
	if b.seatPlaces(s.Displacement) > t.SeatsKept() {
		b.seatPitch = s.Displacement // so that a seat's displacements are seats of their own
	}
	return t, nil, nil
}

func zonesTooLarge(e model.Engine) error {
	return fmt.Errorf("the zones are too large to search by the %s engine: give narrower ones, for the speakers and for the seat", e.Info().Kind)
}

// tabulate returns the table for a search. A wide search's table need not be more accurate
// than its engine, so it is not checked.
func (s *Settings) tabulate(ctx context.Context, b *score.Band, d table.Domain, goal model.Goal) (*table.Engine, error) {
	if s.Wide == nil {
		return table.Tabulate(ctx, b, d, goal, s.Progress)
	}
	t := table.Wide(b, d)
	if t == nil {
		return nil, table.ErrTooLarge
	}
	return t, t.Fill(ctx, s.Progress)
}

// seatPlaces returns how many places of the lattice the ears may have in a search,
// displacements included.
func (b *problem) seatPlaces(shift float64) int {
	along := func(s geometry.Span) int {
		if s.Length() == 0 {
			return 3
		}
		return int(s.Grow(shift).Length()/pitch) + 1
	}
	a := geometry.HullOf(b.seats)
	return along(a.X) * along(a.Y)
}

// domain returns all places for which a search may need the field.
func (b *problem) domain(shift float64) table.Domain {
	size := b.project.Room.Size
	room := geometry.Area{X: geometry.Span{Lo: 0, Hi: size.X}, Y: geometry.Span{Lo: 0, Hi: size.Y}}
	margin := func(a geometry.Area) geometry.Area {
		return geometry.Area{X: a.X.Grow(shift), Y: a.Y.Grow(shift)}.And(room)
	}
	var left, right []geometry.Area
	for _, s := range b.pairAreas {
		left, right = append(left, margin(s.left)), append(right, margin(s.right))
	}
	d := table.Domain{Sources: []geometry.Area{geometry.HullOf(left), geometry.HullOf(right)}, Seats: margin(geometry.HullOf(b.seats)), Ears: geometry.Round(b.ears)}
	if b.seatOnLine() && len(b.seats) == 1 {
		d.Line = table.Lines(b.seats[0].Y.Lo, shift, room.Y)
	}
	if l, r := d.Sources[0], d.Sources[1]; !l.And(r).Empty() {
		d.Sources = []geometry.Area{l.Hull(r)}
	}
	for _, h := range b.heights {
		d.Heights = append(d.Heights, geometry.Round(h-b.project.Speakers.WooferBelow))
	}
	if s := &b.project.Speakers; s.Fixed && !geometry.Same(s.Left.Z, s.Right.Z) {
		d.Heights = append(d.Heights, geometry.Round(s.Right.Z))
	}
	return d
}

// breedAndPolish returns the layouts to be shown, and records in the result how the search
// ended.
func (b *problem) breedAndPolish(ctx context.Context, g *archive, s Settings, r *Result) ([]record, error) {
	reason, err := (&breeding{ctx: ctx, problem: b, archive: g}).run(s)
	if err != nil {
		return nil, err
	}
	r.Stopped = reason
	nearest := g.best // decoded, so inside the zones; a polish may leave them
	starts := g.distinct(4*s.Layouts, s.Apart)
	if ctx.Err() == nil {
		starts, err = b.polishAll(ctx, g, starts, s.Progress)
		if err != nil && ctx.Err() == nil {
			return nil, err
		}
	}
	if ctx.Err() != nil {
		r.Stopped = stopReason(ctx.Err())
	}
	r.Evaluations = g.legal
	wanted := s.Layouts
	if s.Wide != nil {
		wanted *= refinedPerLayout
	}
	found := bestApart(starts, wanted, s.Apart)
	legal := slices.DeleteFunc(slices.Clone(found), func(n record) bool { return n.score >= illegal })
	switch {
	case len(legal) > 0:
		return legal, nil
	case ctx.Err() != nil:
		return nil, fmt.Errorf("stopped before anything legal was found: %w", ctx.Err())
	}
	return nil, infeasible(b.project, nearest.layout)
}

package score

import (
	"cmp"
	"context"
	"math"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/geometry"

	"gonum.org/v1/gonum/spatial/r3"
)

// Displacement is by how much a speaker is off its mark in the robust spread by default, m.
const Displacement = 0.05

// toleranceLimit is the largest tolerance looked for, m.
const toleranceLimit = 0.30

// Evaluate returns all figures of one layout, exactly as the engine gives them, with the
// rules that the layout breaks. The displacement of a mark in the robust spread is in m; 0
// means [Displacement]. It fails if the engine's grid does not cover the goal or the engine
// refuses a place.
func Evaluate(ctx context.Context, p *model.Project, e model.Engine, l model.Layout, displacement float64) (Candidate, error) {
	b, err := NewBand(e, p.Goal)
	if err != nil {
		return Candidate{}, err
	}
	c, err := b.Candidate(ctx, p, l, cmp.Or(displacement, Displacement))
	c.Breaches = p.Breaches(l)
	return c, err
}

// Candidate returns all figures of one layout but the breaches.
func (b *Band) Candidate(ctx context.Context, p *model.Project, l model.Layout, displacement float64) (Candidate, error) {
	b, err := b.Near(ctx, l, p)
	if err != nil {
		return Candidate{}, err
	}
	exact := NewScorer(b, p, displacement)
	whole := NewScorer(b.Engine, p, displacement)
	c := Candidate{Layout: l}
	if c.Pair, err = whole.Pair(ctx, l); err != nil {
		return c, err
	}
	c.Judgement = whole.Reader.Judge(c.Pair)
	c.Card.Card = whole.Reader.Card(c.Pair, nil)
	if _, err := Finite(c.Judgement.Spread(), l); err != nil {
		return c, err
	}
	if c.Steadiness, err = exact.Steadiness(ctx, l); err != nil {
		return c, err
	}
	c.Robust = c.Steadiness.Robust()
	if err := c.fillSeats(ctx, p, b); err != nil {
		return c, err
	}
	c.Tolerance, err = exact.Tolerance(ctx, l)
	return c, err
}

// Near returns the engine for the surroundings of a layout and for the other seats, where
// fields cost so much that the engine needs to know them beforehand; else the same engine.
func (b *Band) Near(ctx context.Context, l model.Layout, p *model.Project) (*Band, error) {
	if _, ok := b.Engine.(model.LayoutEngine); !ok {
		return b, nil
	}
	near, err := Near(ctx, b.Engine, l, OtherPlaces(p, l)...)
	if err != nil {
		return nil, err
	}
	return NewBand(near, p.Goal)
}

// Near returns the engine for the surroundings of a layout and for other places of ears,
// where the engine needs to know them beforehand; else the engine itself.
func Near(ctx context.Context, e model.Engine, l model.Layout, heads ...r3.Vec) (model.Engine, error) {
	if n, ok := e.(model.LayoutEngine); ok {
		return n.Near(ctx, l, heads...)
	}
	return e, nil
}

// Tolerance returns how far each mark may be off on plan before the plain spread grows by 1
// dB.
func (s *Scorer) Tolerance(ctx context.Context, l model.Layout) (Tolerance, error) {
	t := Tolerance{Limit: toleranceLimit}
	field, err := s.Engine.Field(ctx, l.Seat)
	if err != nil {
		return t, err
	}
	marked := response.Pair{Left: field.Transfer(nil, l.Left), Right: field.Transfer(nil, l.Right)}
	base, err := s.of(marked, l)
	if err != nil {
		return t, err
	}
	shifted := func(v, d r3.Vec) r3.Vec { return geometry.Inside(r3.Add(v, d), s.Size) }
	for _, mark := range []struct {
		radius *float64
		spread func(shift r3.Vec) (model.Level, error)
	}{
		{&t.Left, func(d r3.Vec) (model.Level, error) {
			return s.of(response.Pair{Left: field.Transfer(nil, shifted(l.Left, d)), Right: marked.Right}, l)
		}},
		{&t.Right, func(d r3.Vec) (model.Level, error) {
			return s.of(response.Pair{Left: marked.Left, Right: field.Transfer(nil, shifted(l.Right, d))}, l)
		}},
		{&t.Seat, func(d r3.Vec) (model.Level, error) {
			moved := l
			moved.Seat = shifted(l.Seat, d)
			return s.Plain(ctx, moved)
		}},
	} {
		*mark.radius, err = radius(func(d r3.Vec) (model.Level, error) {
			spread, err := mark.spread(d)
			return spread - base, err
		})
		if err != nil {
			return t, err
		}
	}
	return t, nil
}

// radius returns how far a mark may be off, m, from by how much the spread grows with a shift.
//
// Each ring of 1.25 cm is tried on eight rays, which alternate from ring to ring so that narrow spikes
// between rays are found. Straight lines join the largest growth so far of one ring and the next. The
// radius is where they reach 1 dB, less a hundredth of a decibel for each 2 cm. This slope keeps the
// radius from jumping where the growth only just reaches 1 dB on its way: if every growth changes by
// some amount, the radius changes by 2 cm for each hundredth of a decibel of it at most.
func radius(growth func(shift r3.Vec) (model.Level, error)) (float64, error) {
	const rays, rings, pace, slope = 8, 24, toleranceLimit / 24, 0.5 // slope in dB/m
	var most, before float64
	for k := 1; k <= rings; k++ {
		r := pace * float64(k)
		for i := range rays {
			sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.5*float64(k%2)) / rays)
			grown, err := growth(r3.Vec{X: r * cos, Y: r * sin})
			if err != nil {
				return 0, err
			}
			most = max(most, float64(grown))
		}
		reached := most + slope*r
		if reached > 1 {
			return geometry.Round(r - pace*(reached-1)/(reached-before)), nil
		}
		before = reached
	}
	return toleranceLimit, nil
}

package optimize

import (
	"context"
	"math"
	"math/bits"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/optimize/geometry"
	"evenbass/optimize/score"
)

// Step is what is moved at once on the way from the present layout to another: one part, or
// several that only gain together.
type Step struct {
	Parts         []Part
	From, To      model.Layout // before and after it
	Before, After model.Level  // plain spread
	Breaks        bool         // afterwards a rule is broken
}

// Part names what a step moves, and along which axis.
type Part string

// The parts. Both speakers move together.
const (
	SeatAlong      Part = "seat along the room"
	SeatAcross     Part = "seat across the room"
	SpeakersAlong  Part = "speakers along the room"
	SpeakersAcross Part = "speakers across the room"
	SpeakersHeight Part = "height of the speakers"
)

// parts lists all parts, with how to move each to where another layout has it.
var parts = []struct {
	part Part
	move func(l *model.Layout, to model.Layout)
}{
	{SeatAlong, func(l *model.Layout, to model.Layout) { l.Seat.X = to.Seat.X }},
	{SeatAcross, func(l *model.Layout, to model.Layout) { l.Seat.Y = to.Seat.Y }},
	{SpeakersAlong, func(l *model.Layout, to model.Layout) { l.Left.X, l.Right.X = to.Left.X, to.Right.X }},
	{SpeakersAcross, func(l *model.Layout, to model.Layout) { l.Left.Y, l.Right.Y = to.Left.Y, to.Right.Y }},
	{SpeakersHeight, func(l *model.Layout, to model.Layout) {
		l.Left.Z, l.Right.Z, l.AxisHeight = to.Left.Z, to.Right.Z, to.AxisHeight
	}},
}

// LeastGain is the gain in dB below which the remaining moves are not worth the trouble:
// half of what a listener would notice (common practice, no source).
const LeastGain = 0.5

// LeastMove is the least distance in m along an axis that is worth a new mark. What is nearer to its mark
// stays, unless the layout needs it; then it comes with another part.
const LeastMove = 0.03

// Steps returns the moves that lead from one layout to another: as many steps as possible, each of
// which gains at least [LeastGain] and ends at a layout that keeps the rules. Parts that only gain
// together are one step, so that a way begun never makes things worse. Of ways with equally many
// steps it takes the one whose intermediate spreads have the smallest sum, by dynamic programming
// over what has been moved (Held and Karp, J. SIAM 10, 1962).
//
// What would move by less than [LeastMove] stays, as long as the way without it keeps the rules and ends
// within LeastGain of the whole layout. The way ends early where what is left gains less than LeastGain. It is
// empty if all of it gains less, or nothing moves, unless the first layout breaks a rule: then it is one step.
// The ears must be equally high in both layouts. It fails if the engine refuses a place.
func Steps(ctx context.Context, p *model.Project, e model.Engine, from, to model.Layout) ([]Step, error) {
	b, err := score.NewBand(e, p.Goal)
	if err != nil {
		return nil, err
	}
	return stepsTo(ctx, p, score.NewScorer(b, p, 0).Plain, from, to)
}

// spreadOf returns the plain spread of a layout.
type spreadOf func(context.Context, model.Layout) (model.Level, error)

// stepsTo returns the steps to a layout, or to as much of it as is worth new marks.
func stepsTo(ctx context.Context, p *model.Project, spread spreadOf, from, to model.Layout) ([]Step, error) {
	if large := withoutSmall(from, to); large != to {
		w, err := newRoute(ctx, p, spread, from, large)
		if err != nil {
			return nil, err
		}
		whole, err := spread(ctx, to)
		if err != nil {
			return nil, err
		}
		steps := w.steps()
		reached, breaks := w.spreads[0], w.breaks[0] > 0
		if n := len(steps); n > 0 {
			reached, breaks = steps[n-1].After, steps[n-1].Breaks
		}
		if !breaks && reached < whole+LeastGain {
			return steps, nil
		}
	}
	w, err := newRoute(ctx, p, spread, from, to)
	if err != nil {
		return nil, err
	}
	return w.steps(), nil
}

// withoutSmall returns a layout with what moves by less than [LeastMove] along an axis left where it is.
func withoutSmall(from, to model.Layout) model.Layout {
	keep := func(is, was float64) float64 {
		if math.Abs(is-was) < LeastMove-1e-9 {
			return was
		}
		return is
	}
	for _, at := range []struct{ to, from *r3.Vec }{{&to.Left, &from.Left}, {&to.Right, &from.Right}, {&to.Seat, &from.Seat}} {
		*at.to = r3.Vec{X: keep(at.to.X, at.from.X), Y: keep(at.to.Y, at.from.Y), Z: keep(at.to.Z, at.from.Z)}
	}
	to.AxisHeight = keep(to.AxisHeight, from.AxisHeight)
	return to
}

// route holds every mix of two layouts: bit i of an index says that move i is done.
type route struct {
	parts   []Part
	layouts []model.Layout
	spreads []model.Level
	breaks  []float64 // by how much a mix breaks rules, m
}

func newRoute(ctx context.Context, p *model.Project, spread spreadOf, from, to model.Layout) (*route, error) {
	w := new(route)
	var moves []func(*model.Layout, model.Layout)
	for _, m := range parts {
		l := from
		if m.move(&l, to); l != from {
			w.parts, moves = append(w.parts, m.part), append(moves, m.move)
		}
	}
	n := 1 << len(moves)
	w.layouts, w.spreads, w.breaks = make([]model.Layout, n), make([]model.Level, n), make([]float64, n)
	return w, concurrent.Each(n, func(i int) error {
		l := from
		for k, move := range moves {
			if i>>k&1 == 1 {
				move(&l, to)
			}
		}
		var err error
		w.layouts[i], w.breaks[i] = l, p.Violation(l)
		w.spreads[i], err = spread(ctx, l)
		return err
	})
}

// way is the best way to a mix.
type way struct {
	steps int
	sum   float64 // of the spreads after each step
	last  int     // the mix before
}

// better reports whether a way is better than another to the same mix: more steps, then less
// spread on the way.
func (a way) better(b way) bool {
	return a.steps > b.steps || a.steps == b.steps && a.sum < b.sum
}

// ways returns the best way to each mix, without steps if there is none.
func (w *route) ways() []way {
	ways := make([]way, len(w.layouts))
	for i := 1; i < len(ways); i++ {
		if w.breaks[i] > 0 {
			continue
		}
		for from := (i - 1) & i; ; from = (from - 1) & i { // all that have part of it moved
			gain := w.spreads[from] - w.spreads[i]
			if (from == 0 || ways[from].steps > 0) && gain >= LeastGain && !w.small(from, i) {
				next := way{ways[from].steps + 1, ways[from].sum + float64(w.spreads[i]), from}
				if next.better(ways[i]) {
					ways[i] = next
				}
			}
			if from == 0 {
				break
			}
		}
	}
	return ways
}

// small reports whether nothing moves by [LeastMove] from one mix to another.
func (w *route) small(from, to int) bool {
	a, b := w.layouts[from], w.layouts[to]
	return geometry.Apart(a, b) < LeastMove-1e-9
}

// steps describes the best way to the mix that moves least of those within [LeastGain] of the best.
func (w *route) steps() []Step {
	ways := w.ways()
	best := math.Inf(1)
	for i := range ways {
		if ways[i].steps > 0 || i == 0 && w.breaks[0] == 0 {
			best = min(best, float64(w.spreads[i]))
		}
	}
	end := -1
	for i := range ways {
		reached := ways[i].steps > 0 || i == 0 && w.breaks[0] == 0
		if !reached || float64(w.spreads[i]) >= best+LeastGain {
			continue
		}
		if end < 0 || w.moved(i) < w.moved(end) || w.moved(i) == w.moved(end) && w.spreads[i] < w.spreads[end] {
			end = i
		}
	}
	if end < 0 && w.breaks[0] > 0 {
		return w.outOfBreach()
	}
	var list []Step
	for ; end > 0; end = ways[end].last {
		list = append(list, w.step(ways[end].last, end))
	}
	slices.Reverse(list)
	return list
}

// outOfBreach is the one step out of a place that breaks a rule: to the mix that moves least of
// those within [LeastGain] of the best that keeps all rules.
func (w *route) outOfBreach() []Step {
	best, end := math.Inf(1), 0
	for i, spread := range w.spreads {
		if w.breaks[i] == 0 {
			best = min(best, float64(spread))
		}
	}
	for i, spread := range w.spreads {
		if w.breaks[i] == 0 && float64(spread) < best+LeastGain && (end == 0 || w.moved(i) < w.moved(end)) {
			end = i
		}
	}
	if end == 0 {
		return nil
	}
	return []Step{w.step(0, end)}
}

func (w *route) moved(i int) int { return bits.OnesCount(uint(i)) }

func (w *route) step(from, to int) Step {
	s := Step{From: w.layouts[from], To: w.layouts[to], Before: w.spreads[from], After: w.spreads[to], Breaks: w.breaks[to] > 0}
	for k, part := range w.parts {
		if (from^to)>>k&1 == 1 {
			s.Parts = append(s.Parts, part)
		}
	}
	return s
}

package optimize

import (
	"context"
	"math"
	"math/bits"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/optimize/score"
)

// Step is one move on the way from the present layout to another.
type Step struct {
	Part          Part
	From, To      model.Layout // before and after it
	Before, After model.Level  // plain spread
	Breaks        bool         // afterwards a rule is broken, until a later step
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

// Steps returns the single moves that lead from one layout to another, in the order that
// brings most of the gain first. Of all orders it takes the one whose intermediate spreads
// have the smallest sum, by dynamic programming over what has been moved (Held and Karp, J.
// SIAM 10, 1962). The intermediate layouts break rules for no longer than in any other
// order.
//
// The list ends early where the remaining moves gain less than [LeastGain], and is empty if
// none of them gains that much or nothing moves. The ears must be equally high in both
// layouts. It fails if the engine refuses a place.
func Steps(ctx context.Context, p *model.Project, e model.Engine, from, to model.Layout) ([]Step, error) {
	b, err := score.NewBand(e, p.Goal)
	if err != nil {
		return nil, err
	}
	w, err := newRoute(ctx, p, score.NewScorer(b, p, 0).Plain, from, to)
	if err != nil {
		return nil, err
	}
	return w.worthwhile(w.steps(w.order())), nil
}

// route holds every mix of two layouts: bit i of an index says that move i is done.
type route struct {
	parts   []Part
	layouts []model.Layout
	spreads []model.Level
	breaks  []float64 // by how much a mix breaks rules, m
}

func newRoute(ctx context.Context, p *model.Project, spread func(context.Context, model.Layout) (model.Level, error), from, to model.Layout) (*route, error) {
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

// order returns the indices of the best order from none moved to all moved.
func (w *route) order() []int {
	n := len(w.layouts)
	cost, last := make([]float64, n), make([]int, n)
	for i := 1; i < n; i++ {
		cost[i] = math.Inf(1)
		for rest := i; rest != 0; rest &= rest - 1 {
			before := i &^ (rest & -rest)
			if c := cost[before] + w.cost(i); c < cost[i] {
				cost[i], last[i] = c, before
			}
		}
	}
	order := make([]int, bits.OnesCount(uint(n-1))+1)
	for k, i := len(order)-1, n-1; k >= 0; k, i = k-1, last[i] {
		order[k] = i
	}
	return order
}

// cost is the spread of a mix; mixes that break rules cost more than all others.
func (w *route) cost(i int) float64 {
	if w.breaks[i] > 0 {
		return illegal + w.breaks[i]
	}
	return float64(w.spreads[i])
}

// steps describes the moves between the mixes of an order.
func (w *route) steps(order []int) []Step {
	var list []Step
	for k, i := range order[1:] {
		from := order[k]
		list = append(list, Step{
			Part: w.parts[bits.TrailingZeros(uint(i^from))],
			From: w.layouts[from], To: w.layouts[i],
			Before: w.spreads[from], After: w.spreads[i], Breaks: w.breaks[i] > 0,
		})
	}
	return list
}

// worthwhile cuts the list after the first step that keeps all rules and from which the
// remaining moves gain less than LeastGain.
func (w *route) worthwhile(steps []Step) []Step {
	best := math.Inf(1)
	for _, s := range steps {
		if !s.Breaks {
			best = min(best, float64(s.After))
		}
	}
	if w.breaks[0] == 0 && float64(w.spreads[0]) < best+LeastGain {
		return nil
	}
	for k, s := range steps {
		if !s.Breaks && float64(s.After) < best+LeastGain {
			return steps[:k+1]
		}
	}
	return nil
}

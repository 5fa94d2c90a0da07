package response

import (
	"fmt"
	"math"
	"slices"
)

// Figure names one figure of a [Card].
type Figure int

// The figures, in the order in which they are shown.
const (
	SpreadFigure Figure = iota
	DeviationFigure
	WithinFigure
	DipFigure
	LowOctaveFigure
	WorstFallFigure
	MeanFallFigure
)

// FigureList lists the figures, for ranging.
var FigureList = [7]Figure{
	SpreadFigure, DeviationFigure, WithinFigure, DipFigure, LowOctaveFigure, WorstFallFigure, MeanFallFigure,
}

// Value returns a figure in its own unit: dB, as a share from 0 to 1, or s; and whether it is
// known. A fall too fast to resolve counts as long as the shortest that can be resolved; one
// too slow to read, as a second.
func (c Card) Value(f Figure) (value float64, known bool) {
	switch f {
	case SpreadFigure:
		return float64(c.Spread), true
	case DeviationFigure:
		return float64(c.Deviation), true
	case WithinFigure:
		return c.Within, true
	case DipFigure:
		return float64(c.Dip.Level), true
	case LowOctaveFigure:
		return float64(c.LowOctave), true
	case WorstFallFigure:
		return max(c.Fall.worst(), c.Fall.Least), c.Fall.Mean > 0
	case MeanFallFigure:
		return c.Fall.Mean, c.Fall.Mean > 0
	}
	panic(fmt.Sprintf("response: no figure %d", int(f)))
}

// fault returns how bad a value of a figure is: more is worse.
func (f Figure) fault(value float64) float64 {
	switch f {
	case WithinFigure, DipFigure:
		return -value
	case LowOctaveFigure: // too loud is as bad as too soft
		return math.Abs(value)
	}
	return value
}

// Mark says whether a figure got better or worse.
type Mark int

// The marks. The zero value is for a change too small to resolve.
const (
	NoDifference Mark = iota
	Better
	Worse
)

// String returns "better", "worse" or "no difference".
func (m Mark) String() string { return [3]string{"no difference", "better", "worse"}[m] }

// Resolution is, for each [Figure], the smallest change that a prediction resolves, in the figure's own unit.
// The zero value resolves any change.
type Resolution [len(FigureList)]float64

// NewResolution returns the smallest change between two predictions that they resolve. Both are
// given for the same rooms, one plausible room an index: the typical one first, then random trials,
// or hard and soft walls. Uncertainties that are the same before and after thus cancel out. In each
// room the change falls short of the typical one by some amount. The resolution is the largest such
// amount in the nine tenths of the rooms where it is smallest, or in all of fewer than ten rooms. A
// change beyond it therefore keeps its sign in those rooms, however much larger it is in some.
// NewResolution panics if the lists differ in length, and is zero for a single room.
func NewResolution(before, after []Card) Resolution {
	if len(before) != len(after) {
		panic(fmt.Sprintf("response: %d cards before, %d after", len(before), len(after)))
	}
	var r Resolution
	for _, f := range FigureList {
		var short []float64
		typical, known := f.change(before, after, 0)
		for i := 1; i < len(after) && known; i++ {
			if d, ok := f.change(before, after, i); ok {
				short = append(short, shortfall(d, typical))
			}
		}
		if len(short) > 0 {
			slices.Sort(short)
			r[f] = short[int(math.Ceil(0.9*float64(len(short))))-1]
		}
	}
	return r
}

// shortfall returns by how much a change falls short of the typical one. Where nothing changes
// typically, any change counts.
func shortfall(change, typical float64) float64 {
	switch {
	case typical > 0:
		return max(0, typical-change)
	case typical < 0:
		return max(0, change-typical)
	}
	return math.Abs(change)
}

// change returns by how much a figure got worse in one of several rooms.
func (f Figure) change(before, after []Card, room int) (float64, bool) {
	if room >= len(after) {
		return 0, false
	}
	was, knew := before[room].Value(f)
	is, knows := after[room].Value(f)
	return f.fault(is) - f.fault(was), knew && knows
}

// Widest returns the larger of two resolutions, figure by figure.
func (r Resolution) Widest(o Resolution) Resolution {
	for f := range r {
		r[f] = max(r[f], o[f])
	}
	return r
}

// Change is how one figure changed.
type Change struct {
	Before, After float64 // in the figure's own unit
	Known         bool    // both are
	Mark          Mark
}

// Comparison is the change of each [Figure].
type Comparison [len(FigureList)]Change

// LessEven reports whether the band as a whole got less even, whatever its extremes: the standard
// deviation is worse, or more of the band is beyond [Tolerated] and the deviation is no better.
func (c *Comparison) LessEven() bool {
	deviation := c[DeviationFigure].Mark
	return deviation == Worse || deviation == NoDifference && c[WithinFigure].Mark == Worse
}

// Against compares a card with the one before. A figure is better or worse if it changes by
// more than the resolution. Too much bass in the lowest octave is as bad as too little.
func (c Card) Against(before Card, resolution Resolution) Comparison {
	var all Comparison
	for _, f := range FigureList {
		was, knew := before.Value(f)
		is, knows := c.Value(f)
		change := Change{Before: was, After: is, Known: knew && knows}
		if worse := f.fault(is) - f.fault(was); change.Known {
			change.Mark = markOf(worse, resolution[f])
		}
		all[f] = change
	}
	return all
}

// markOf returns the mark of a figure that got worse by the given amount.
func markOf(worse, resolution float64) Mark {
	switch {
	case worse > resolution:
		return Worse
	case -worse > resolution:
		return Better
	}
	return NoDifference
}

// Ranged is a predicted card with the same card in other plausible rooms.
type Ranged struct {
	Card

	// Ends holds the card with typical, with hard and with soft walls, all by one engine. That
	// engine may be coarser than the one of the card itself.
	Ends []Card

	// Trials holds the card in random rooms, the same ones for all states that are compared.
	// Their falls are not known.
	Trials []Card

	Least Resolution // the smallest change that the engine itself resolves
}

// Resolution returns the smallest change from another state that the prediction resolves: by the trials where
// a figure is known in them, else by hard and soft walls, but no finer than the engine itself.
func (r *Ranged) Resolution(before *Ranged) Resolution {
	found := NewResolution(before.Ends, r.Ends)
	if len(r.Trials) > 0 && len(r.Trials) == len(before.Trials) {
		with := func(c Card, trials []Card) []Card {
			c.Fall = Fall{}
			return append([]Card{c}, trials...)
		}
		tried := NewResolution(with(before.Card, before.Trials), with(r.Card, r.Trials))
		for _, f := range FigureList {
			if _, known := r.Trials[0].Value(f); known {
				found[f] = tried[f]
			}
		}
	}
	return found.Widest(r.Least).Widest(before.Least)
}

// Compare compares a state with the one before by what the prediction resolves.
func (r *Ranged) Compare(before *Ranged) Comparison {
	return r.Against(before.Card, r.Resolution(before))
}

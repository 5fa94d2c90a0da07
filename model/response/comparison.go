package response

import (
	"fmt"
	"math"
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

// The marks. The zero value is for a change too small to count.
const (
	NoDifference Mark = iota
	Better
	Worse
)

// String returns "better", "worse" or "no difference".
func (m Mark) String() string { return [3]string{"no difference", "better", "worse"}[m] }

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

// MoreEven reports whether the band as a whole got more even: the standard deviation or the share within
// [Tolerated] is better, and neither is worse.
func (c *Comparison) MoreEven() bool {
	deviation, within := c[DeviationFigure].Mark, c[WithinFigure].Mark
	return deviation != Worse && within != Worse && (deviation == Better || within == Better)
}

// Impaired reports whether a figure of the band as a whole got worse: the standard deviation, the share within
// [Tolerated] or the lowest octave. It is what less spread at one place of many need not cost.
func (c *Comparison) Impaired() bool {
	return c[DeviationFigure].Mark == Worse || c[WithinFigure].Mark == Worse || c[LowOctaveFigure].Mark == Worse
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

// Excess returns by how much a card is worse than the one before beyond a resolution, in multiples of it, summed
// over the figures. It is 0 exactly where [Card.Against] marks no figure as worse.
func (c Card) Excess(before Card, resolution Resolution) float64 {
	var sum float64
	for _, f := range FigureList {
		was, knew := before.Value(f)
		is, knows := c.Value(f)
		if over := f.fault(is) - f.fault(was) - resolution[f]; knew && knows && over > 0 {
			sum += over / resolution[f]
		}
	}
	return sum
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

// Resolution returns the smallest change from another state that counts. The prediction resolves it: by the
// trials where a figure is known in them, else by hard and soft walls, but no finer than the engine itself. And
// it is heard, see [Noticeable].
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
	return found.Widest(r.Least).Widest(before.Least).Widest(Noticeable(before.Card, r.Card))
}

// Compare compares a state with the one before by what the prediction resolves and a listener hears.
func (r *Ranged) Compare(before *Ranged) Comparison {
	return r.Against(before.Card, r.Resolution(before))
}

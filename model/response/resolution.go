package response

import (
	"fmt"
	"math"
	"slices"
)

// Resolution is, for each [Figure], the smallest change that counts, in the figure's own unit: one that a
// prediction resolves, a repeated measurement confirms, or a listener hears. With the zero value any change does.
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

// Just noticeable differences: of a level in dB, and of a decay as a share of it (ISO 3382-1:2009, table A.1,
// for sound strength and early decay time, from memory).
const (
	noticedLevel = 1.0
	noticedDecay = 0.05
)

// noticedShare is the least change of the share of the band within [Tolerated] that counts. Common practice, no
// source: it is that of repeated measurements.
const noticedShare = 0.05

// Noticeable returns the smallest changes between two cards that a listener notices. A dip and the lowest octave
// are levels. The spread is half the distance between two levels, so that half of a level counts. The standard
// deviation is about half of a spread, so that a quarter does. A decay counts by its share of the longer one, so
// that a change back is marked as the change there was. A figure that is not known needs no change.
func Noticeable(before, after Card) Resolution {
	r := Resolution{
		SpreadFigure: noticedLevel / 2, DeviationFigure: noticedLevel / 4, WithinFigure: noticedShare,
		DipFigure: noticedLevel, LowOctaveFigure: noticedLevel,
	}
	for _, f := range []Figure{WorstFallFigure, MeanFallFigure} {
		was, knew := before.Value(f)
		if is, knows := after.Value(f); knew && knows {
			r[f] = noticedDecay * max(was, is)
		}
	}
	return r
}

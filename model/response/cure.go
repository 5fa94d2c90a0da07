package response

import (
	"math"
	"sort"

	"evenbass/model"
)

// Cure is what leaving one thing out of a room does to a fault.
type Cure struct {
	Without int         // which of the pairs given cures it
	Gain    model.Level // how far the fault shrinks, dB
}

// Cures returns which of several changes cure a fault, the best cure first. A pair holds
// the transfers after one change: a wall's reflections gone, a mode gone, a seat moved. A
// change cures if it takes away at least half of the fault, and at least 3 dB of it. The
// size of a fault is how far it stands out from the band's mean. It is followed over 1/6
// octave to either side, so that a dip that merely moves does not count as cured. The list
// is empty if no single change cures the fault.
func (r *Reader) Cures(fault Feature, without []Pair) []Cure {
	sign := -1.0
	if fault.Peak {
		sign = 1
	}
	size := sign * float64(fault.Level)
	var cures []Cure
	for i, pair := range without {
		left := r.worstNear(fault, pair.Of(fault.Channel))
		gain := size - max(0, sign*float64(left))
		if gain >= max(3, size/2) {
			cures = append(cures, Cure{Without: i, Gain: model.Level(gain)})
		}
	}
	sort.SliceStable(cures, func(i, j int) bool { return cures[i].Gain > cures[j].Gain })
	return cures
}

// worstNear returns the lowest level (of a peak: the highest) within 1/6 octave
// of the fault, dB re the band's mean.
func (r *Reader) worstNear(fault Feature, p []complex128) model.Level {
	curve, mean := r.curve(p), r.mean(p)
	worst := model.Level(math.Inf(1))
	if fault.Peak {
		worst = model.Level(math.Inf(-1))
	}
	for i, f := range r.between.fine {
		if math.Abs(math.Log2(f/fault.Frequency)) > 1.0/6 {
			continue
		}
		if l := curve[i] - mean; fault.Peak == (l > worst) {
			worst = l
		}
	}
	return worst
}

package response

import (
	"math"
	"sort"

	"evenbass/model"
)

// Suspect is something that may cause a fault, with the pair's transfers as they
// would be without it: one wall's reflections gone, or one mode.
type Suspect struct {
	Name string // "back wall", "mode (1,0,0), 36.2 Hz"
	Pair Pair
}

// Cause is a suspect whose removal cures a fault: the evidence for it.
type Cause struct {
	Name string
	Cure model.Level // how far the fault shrinks without it, dB
	Left model.Level // what is left of the fault, dB re the band's mean
}

// Explain returns the suspects whose removal takes away at least half of a
// fault, and at least 3 dB of it, the best cure first. A fault's size is how far
// it stands out from the band's mean; it is followed over 1/6 octave to either
// side, so that a dip that merely moves is not taken for cured. No suspect, no
// cause: an empty list says that no single thing causes the fault.
func (r *Reader) Explain(fault Feature, suspects []Suspect) []Cause {
	sign := -1.0
	if fault.Peak {
		sign = 1
	}
	size := sign * float64(fault.Level)
	var causes []Cause
	for _, s := range suspects {
		left := r.worstNear(fault, s.Pair.Of(fault.Channel))
		cure := size - max(0, sign*float64(left))
		if cure >= max(3, size/2) {
			causes = append(causes, Cause{Name: s.Name, Cure: model.Level(cure), Left: left})
		}
	}
	sort.SliceStable(causes, func(i, j int) bool { return causes[i].Cure > causes[j].Cure })
	return causes
}

// worstNear returns the lowest level (of a peak: the highest) within 1/6 octave
// of the fault, dB re the band's mean.
func (r *Reader) worstNear(fault Feature, p []complex128) model.Level {
	curve, mean := r.Smooth(p), r.mean(p)
	worst := model.Level(math.Inf(1))
	if fault.Peak {
		worst = model.Level(math.Inf(-1))
	}
	for i, f := range r.grid {
		if math.Abs(math.Log2(f/fault.Frequency)) > 1.0/6 {
			continue
		}
		if l := curve[i] - mean; fault.Peak == (l > worst) {
			worst = l
		}
	}
	return worst
}

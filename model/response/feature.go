package response

import (
	"math"
	"sort"

	"evenbass/model"
)

// Feature is a dip or a peak of a smoothed curve.
type Feature struct {
	Channel    Channel
	Peak       bool        // else a dip
	Frequency  float64     // Hz
	Level      model.Level // dB re the band's mean; negative in most dips
	Prominence model.Level // dB to the lower of the two shoulders (a dip: to the nearer brim)
	Width      float64     // octaves between the points half way up to the shoulder
}

// Features lists the dips and peaks of one channel within the band whose
// prominence is at least least, the most prominent first. The prominence of a
// dip is the climb to the lower of the highest levels on either side before the
// curve falls below the dip again; a dip at the band's edge has one side only.
func (r *Reader) Features(c Channel, p []complex128, least model.Level) []Feature {
	curve := r.curve(p)[r.band.lo:r.band.hi]
	mean := r.mean(p)
	var found []Feature
	for _, peak := range []bool{false, true} {
		shape := make([]float64, len(curve))
		for i, l := range curve {
			shape[i] = float64(l)
			if peak {
				shape[i] = -shape[i]
			}
		}
		for i := range shape {
			climb, width := r.valley(shape, i)
			if climb < float64(least) {
				continue
			}
			found = append(found, Feature{
				Channel: c, Peak: peak, Frequency: r.between.fine[r.band.lo+i],
				Level: curve[i] - mean, Prominence: model.Level(climb), Width: width,
			})
		}
	}
	sort.SliceStable(found, func(i, j int) bool { return found[i].Prominence > found[j].Prominence })
	return found
}

// valley returns the prominence in dB and the width in octaves of the local
// minimum of shape at i; zeros if there is none.
func (r *Reader) valley(shape []float64, i int) (climb, width float64) {
	n := len(shape)
	if i > 0 && shape[i-1] <= shape[i] || i < n-1 && shape[i+1] < shape[i] {
		return 0, 0
	}
	brim := func(step int) float64 {
		top := math.Inf(-1)
		for j := i + step; j >= 0 && j < n && shape[j] >= shape[i]; j += step {
			top = max(top, shape[j])
		}
		return top
	}
	left, right := brim(-1), brim(1)
	shoulder := min(left, right)
	if math.IsInf(shoulder, -1) {
		shoulder = max(left, right)
	}
	half := (shape[i] + shoulder) / 2
	a, b := i, i
	for a > 0 && shape[a] < half {
		a--
	}
	for b < n-1 && shape[b] < half {
		b++
	}
	return shoulder - shape[i], math.Log2(r.between.fine[r.band.lo+b] / r.between.fine[r.band.lo+a])
}

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
	Width      Width
}

// Width is how wide a dip or a peak of a smoothed curve is: between the points on either side at which the
// level is half way, in dB, between its lowest point and the lower of its two shoulders.
type Width struct {
	Octaves float64 // no less than the smoothing's window
	Narrow  bool    // it may be less: the curve cannot hold what is narrower than the window
	Cut     bool    // it may be more: the edge of the band comes first on one side at least
}

// Features lists the dips and peaks of one channel within the band whose
// prominence is at least least, the most prominent first. The prominence of a
// dip is the climb to the lower of the highest levels on either side before the
// curve falls below the dip again; a dip at the band's edge has one side only.
func (r *Reader) Features(c Channel, p []complex128, least model.Level) []Feature {
	whole := r.curve(p)
	at := func(i int) float64 { return whole[i].Power() }
	curve := whole[r.band.lo:r.band.hi]
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
				Level: model.PowerLevel(r.extreme(r.band.lo+i, at)) - mean, Prominence: model.Level(climb), Width: width,
			})
		}
	}
	sort.SliceStable(found, func(i, j int) bool { return found[i].Prominence > found[j].Prominence })
	return found
}

// valley returns the prominence in dB and the width of the local minimum of shape at i; zeros if there is none.
func (r *Reader) valley(shape []float64, i int) (climb float64, width Width) {
	n := len(shape)
	if i > 0 && shape[i-1] <= shape[i] || i < n-1 && shape[i+1] < shape[i] {
		return 0, Width{}
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
	width = Width{Octaves: math.Log2(r.between.fine[r.band.lo+b] / r.between.fine[r.band.lo+a]), Cut: shape[a] < half || shape[b] < half}
	if window := 1 / float64(r.goal.Smoothing); width.Octaves <= window {
		width.Octaves, width.Narrow = window, !width.Cut
	}
	return shoulder - shape[i], width
}

package response

import (
	"math"

	"evenbass/model"
)

// octaveRatio is G, the base-ten octave ratio of IEC 61260-1:2014, eq. (1).
var octaveRatio = math.Pow(10, 0.3)

// Band returns the edges and the exact mid-frequency in Hz of the fractional
// octave band number x. For an odd b, band 0 is centred at 1000 Hz; for an even
// b, 1000 Hz is an edge (IEC 61260-1:2014, eqs. (2)-(5)).
func Band(b, x int) (lower, centre, upper float64) {
	exponent := float64(x) / float64(b)
	if b%2 == 0 {
		exponent = float64(2*x+1) / float64(2*b)
	}
	centre = 1000 * math.Pow(octaveRatio, exponent)
	half := math.Pow(octaveRatio, 1/float64(2*b))
	return centre / half, centre, centre * half
}

// Smoother takes the power average over a window of a fraction of an octave
// about every frequency of a grid. Windows that reach beyond the grid are cut
// there. The zero value is of no use; see [NewSmoother].
type Smoother struct {
	first   []int       // per frequency, the first grid point that counts
	weights [][]float64 // per frequency, the weights from there on; sum 1
}

// NewSmoother returns a smoother of 1/b octave for a grid. The curve is taken as
// straight in power over lg f between grid points, and the mean of that is exact.
// It panics unless b is positive and the grid has two frequencies.
func NewSmoother(grid model.Grid, b int) *Smoother {
	if b <= 0 || len(grid) < 2 {
		panic("response: smoother needs a positive fraction and two frequencies")
	}
	u := make([]float64, len(grid))
	for i, f := range grid {
		u[i] = math.Log(f)
	}
	half := math.Log(octaveRatio) / float64(2*b)
	s := &Smoother{first: make([]int, len(u)), weights: make([][]float64, len(u))}
	for i := range u {
		s.first[i], s.weights[i] = window(u, max(u[i]-half, u[0]), min(u[i]+half, u[len(u)-1]))
	}
	return s
}

// window returns the weights of a piecewise linear curve's mean between a and b:
// the first index and the weights from there.
func window(u []float64, a, b float64) (int, []float64) {
	first := 0
	for first+1 < len(u) && u[first+1] <= a {
		first++
	}
	var w []float64
	add := func(i int, v float64) {
		for len(w) <= i-first {
			w = append(w, 0)
		}
		w[i-first] += v
	}
	for i := first; i+1 < len(u) && u[i] < b; i++ {
		lo, hi, step := max(a, u[i]), min(b, u[i+1]), u[i+1]-u[i]
		mid := ((lo+hi)/2 - u[i]) / step
		add(i, (hi-lo)*(1-mid)/(b-a))
		add(i+1, (hi-lo)*mid/(b-a))
	}
	return first, w
}

// Power fills dst with the smoothed power and returns it. Both have the grid's
// length; dst must not be power itself.
func (s *Smoother) Power(dst, power []float64) []float64 {
	for i, w := range s.weights {
		var sum float64
		for j, v := range power[s.first[i] : s.first[i]+len(w)] {
			sum += w[j] * v
		}
		dst[i] = sum
	}
	return dst
}

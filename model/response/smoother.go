package response

import (
	"math"
	"sort"

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

// Smoother takes the power average over a window of a fraction of an octave about every frequency
// of a grid. Windows that reach beyond the grid are cut there. The zero value cannot be used; see
// [NewSmoother].
//
// The power is taken as straight over lg f between grid points. Its mean over a
// window is then exact, as the difference of the integral at the window's edges.
type Smoother struct {
	half    []float64 // per step, half its length over ln f
	windows []window  // per frequency
}

// window is what one frequency's mean is taken over.
type window struct {
	from, to  edge
	perLength float64 // 1 over its length over ln f
}

// edge is a place between two grid points: the integral up to there is that up to
// grid point at, plus the power at the two points with these weights.
type edge struct {
	at         int
	near, next float64
}

// NewSmoother returns a smoother of 1/b octave for a grid. It panics unless b is
// positive and the grid has two frequencies.
func NewSmoother(grid model.Grid, b int) *Smoother {
	if b <= 0 || len(grid) < 2 {
		panic("response: smoother needs a positive fraction and two frequencies")
	}
	n := len(grid)
	u := make([]float64, n)
	for i, f := range grid {
		u[i] = math.Log(f)
	}
	s := &Smoother{half: make([]float64, n-1), windows: make([]window, n)}
	for i := range s.half {
		s.half[i] = (u[i+1] - u[i]) / 2
	}
	reach := math.Log(octaveRatio) / float64(2*b)
	for i := range u {
		from, to := max(u[i]-reach, u[0]), min(u[i]+reach, u[n-1])
		s.windows[i] = window{edgeAt(u, from), edgeAt(u, to), 1 / (to - from)}
	}
	return s
}

// edgeAt returns the edge at a place v within u.
func edgeAt(u []float64, v float64) edge {
	at := max(0, min(len(u)-2, sort.Search(len(u), func(i int) bool { return u[i] > v })-1))
	step := u[at+1] - u[at]
	t := (v - u[at]) / step
	return edge{at, step * (t - t*t/2), step * t * t / 2}
}

// Power fills dst with the smoothed power and returns it. Both have the grid's
// length; dst must not be power itself.
func (s *Smoother) Power(dst, power []float64) []float64 {
	integral := s.integrate(make([]float64, len(power)), power)
	for i := range dst {
		dst[i] = s.mean(i, power, integral)
	}
	return dst
}

// integrate fills dst with the integral of a power over ln f from the first frequency
// to each, and returns it.
func (s *Smoother) integrate(dst, power []float64) []float64 {
	var sum float64
	dst, power = dst[:len(s.half)+1], power[:len(s.half)+1]
	for i, half := range s.half {
		dst[i] = sum
		sum += half * (power[i] + power[i+1])
	}
	dst[len(s.half)] = sum
	return dst
}

// mean returns the mean of a power over the window about frequency i.
func (s *Smoother) mean(i int, power, integral []float64) float64 {
	w := &s.windows[i]
	return w.perLength * (integral[w.to.at] + w.to.near*power[w.to.at] + w.to.next*power[w.to.at+1] -
		integral[w.from.at] - w.from.near*power[w.from.at] - w.from.next*power[w.from.at+1])
}

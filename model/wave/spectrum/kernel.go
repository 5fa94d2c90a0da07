package spectrum

import (
	"math"
	"math/cmplx"

	"evenbass/model/kaiser"
)

// kernel is the Kaiser-Bessel window of a non-uniform transform (Fessler and Sutton 2003): a record
// is divided by the window's transform, transformed at more bins than it has values, and the bins
// about a phase are summed by the window.
type kernel struct {
	size, length int // of the fast transform, of the record
	shape        float64
	window       []float64 // 1/transform of the kernel, by time
}

// taps is the number of bins summed for one frequency.
const taps = 8

// padding is the least length of the fast transform, relative to the record.
const padding = 1.5

func newKernel(length, size int) *kernel {
	// The best shape for this much padding (Beatty, Nishimura and Pauly 2005, eq. 5).
	spread := taps * (1 - float64(length)/float64(size)/2)
	k := &kernel{size: size, length: length, shape: math.Pi * math.Sqrt(spread*spread-0.8), window: make([]float64, length)}
	for n := range k.window {
		k.window[n] = 1 / k.transform(float64(n-length/2)*2*math.Pi/float64(size))
	}
	return k
}

// at returns the first bin that counts at a phase in rad, the weights from there on, and the turn
// of the record's middle. Time counts from that middle, where the kernel's transform is widest.
func (k *kernel) at(phase float64) (first int, weights [taps]float64, middle complex128) {
	at := phase * float64(k.size) / (2 * math.Pi)
	first = int(math.Ceil(at - taps/2.0))
	for i := range weights {
		x := at - float64(first+i)
		if u := 1 - 4*x*x/(taps*taps); u > 0 {
			weights[i] = kaiser.I0OfRoot(k.shape * k.shape * u)
		}
	}
	return first, weights, cmplx.Exp(complex(0, -phase*float64(k.length/2)))
}

// transform is the continuous transform of the window at w in rad per bin.
func (k *kernel) transform(w float64) float64 {
	u := k.shape*k.shape - w*w*taps*taps/4
	if u > 0 {
		return taps * math.Sinh(math.Sqrt(u)) / math.Sqrt(u)
	}
	u = max(-u, 1e-30)
	return taps * math.Sin(math.Sqrt(u)) / math.Sqrt(u)
}

package image

import (
	"math"

	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/spatial/r3"
)

// Impulse is a band-limited impulse response: the pressure in Pa at the seat after
// a source has given off 1 m³ of air all at once, less what lies outside the band.
type Impulse struct {
	Rate    float64 // samples per second
	Start   float64 // s; time of the first sample, before the source's at 0
	Samples []float64
}

const (
	lowEdge  = 0.5     // octave below the grid over which the band fades out
	highEdge = 1.0 / 3 // octave above it
	ringing  = 0.25    // s kept before and after for the ringing of the band's edges
)

// Impulse returns the impulse response from a source to the seat, whose spectrum
// is that of [Field.Transfer] within the grid's limits. Outside them it falls to
// zero in a raised cosine over half an octave below and a third of one above,
// without delay, so that the response begins to ring before the sound arrives. It
// panics as Transfer does.
func (f *Field) Impulse(source r3.Vec) Impulse {
	e := f.engine
	rate := e.spreader.perMetre * e.box.Air.Speed
	before := int(math.Ceil(ringing * rate))
	n := 2 * ((2*before + e.spreader.samples() + 1) / 2)
	frequencies, weights, first := e.band(rate, n)

	l := f.lattice(source)
	series := e.spreader.newSeries()
	e.spreader.add(series, &l)
	spectrum := make([]complex128, n/2+1)
	p := newPlan(&e.spreader, e.box.Air, frequencies, defaultFading)
	p.run(spectrum[first:], series, make([]float64, e.spreader.samples()))
	for i, f := range frequencies {
		sin, cos := math.Sincos(-2 * math.Pi * f * float64(before) / rate)
		spectrum[first+i] *= complex(weights[i]*rate/float64(n), 0) * complex(cos, sin)
	}
	return Impulse{
		Rate:    rate,
		Start:   -float64(before) / rate,
		Samples: fourier.NewFFT(n).Sequence(nil, spectrum),
	}
}

// band returns the frequencies of a transform of n samples at which the band has
// weight, these weights, and the index of the first.
func (e *Engine) band(rate float64, n int) (frequencies, weights []float64, first int) {
	low, high := e.grid[0], e.grid[len(e.grid)-1]
	for i := 1; i < n/2; i++ {
		f := rate * float64(i) / float64(n)
		w := edge(math.Log2(low/f)/lowEdge) * edge(math.Log2(f/high)/highEdge)
		if w == 0 {
			continue
		}
		if first == 0 {
			first = i
		}
		frequencies, weights = append(frequencies, f), append(weights, w)
	}
	return frequencies, weights, first
}

// edge falls from 1 at x = 0 to 0 at x = 1 in a raised cosine.
func edge(x float64) float64 {
	x = min(max(x, 0), 1)
	return (1 + math.Cos(math.Pi*x)) / 2
}

package decay

import (
	"math"

	"gonum.org/v1/gonum/dsp/fourier"
)

// spectrum is an impulse response's spectrum up to what the highest band needs.
type spectrum struct {
	step   float64 // Hz
	values []complex128
}

// envelope is the squared envelope of a filtered response, in steps of step s.
type envelope struct {
	values []float64
	step   float64
}

// pad is the silence in s behind a record, into which the filters may ring.
const pad = 0.5

// highest is the upper end in Hz of the highest filter, with its skirt.
const highest = 420.0

func newSpectrum(samples []float64, rate float64) *spectrum {
	n := smooth(len(samples) + int(pad*rate))
	padded := make([]float64, n)
	copy(padded, samples)
	all := fourier.NewFFT(n).Coefficients(nil, padded)
	step := rate / float64(n)
	return &spectrum{step: step, values: all[:min(len(all), int(highest/step)+2)]}
}

// smooth returns the next length that is 2 or 3 times a power of two, which the transform
// takes quickly.
func smooth(n int) int {
	for p := 1; ; p *= 2 {
		if p >= n {
			return p
		}
		if p%2 == 0 && p/2*3 >= n {
			return p / 2 * 3
		}
	}
}

// energy returns the squared envelope of a band about a frequency in Hz, so many octaves wide
// at half height: that of the analytic signal behind a raised cosine over lg f.
func (s *spectrum) energy(centre, width float64) envelope {
	n := smooth(2 * len(s.values))
	filtered := make([]complex128, n)
	for i := 1; i < len(s.values); i++ {
		if octaves := math.Abs(math.Log2(float64(i) * s.step / centre)); octaves < width {
			c := math.Cos(math.Pi / 2 * octaves / width)
			filtered[i] = s.values[i] * complex(c*c, 0)
		}
	}
	e := envelope{values: make([]float64, n), step: 1 / (s.step * float64(n))}
	for i, v := range fourier.NewCmplxFFT(n).Sequence(nil, filtered) {
		e.values[i] = real(v)*real(v) + imag(v)*imag(v)
	}
	return e
}

package spectraldecay

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/dsp/fourier"

	"evenbass/model"
)

// Signal is a response over time that holds positive frequencies only.
type Signal struct {
	values []complex128
	step   float64 // s
	first  float64 // time of the first value, s
	from   float64 // the lowest frequency that it holds whole, Hz
	to     float64 // and the highest
	tail   int     // values at the end from which the noise is read; 0 is none
}

// Limits of what is looked at, Hz, and the longest response, s.
const (
	lowest  = 20.0
	highest = 300.0
	ceiling = 420.0 // where the spectrum is cut off
	longest = 3.0
)

// Impulse returns the signal of a measured impulse response at a rate in Hz, the tone stopping at sample
// zero. The last tenth gives the noise, unless the sound still falls there. It fails if the rate is below
// 1000 Hz, if less than 0.2 s follows zero, or if a sample is not a number.
func Impulse(samples []float64, rate float64, zero int) (*Signal, error) {
	switch {
	case !(rate >= 1000 && rate <= 1e6):
		return nil, fmt.Errorf("spectraldecay: a rate of %g Hz; it must be 1000 Hz or more", rate)
	case zero < 0 || float64(len(samples)-zero) < 0.2*rate:
		return nil, fmt.Errorf("spectraldecay: %d samples from the beginning of the sound on; 0.2 s is the least", len(samples)-zero)
	}
	for i, v := range samples {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return nil, fmt.Errorf("spectraldecay: sample %d is not a number", i)
		}
	}
	samples = samples[max(0, zero-int(0.3*rate)):min(len(samples), zero+int(longest*rate))]
	zero = min(zero, int(0.3*rate))
	n := len(samples) + int(0.2*rate) // silence, so that the end does not fold onto the beginning
	n += n % 2
	padded := make([]float64, n)
	copy(padded, samples)
	all := fourier.NewFFT(n).Coefficients(nil, padded)
	step := rate / float64(n)
	spectrum := all[:min(len(all), int(ceiling/step)+1)]
	for i := range spectrum {
		f := float64(i) * step
		spectrum[i] *= complex(rise(f, 5, 10)*rise(-f, -min(ceiling, rate/2), -350)*step, 0)
	}
	s := newSignal(spectrum, step)
	s.values = s.values[:int(float64(len(samples))/rate/s.step)]
	s.first, s.from, s.to = -float64(zero)/rate, lowest, highest
	if n := len(s.values) / 10; !falling(s.values[len(s.values)-2*n:]) {
		s.tail = n
	}
	return s, nil
}

// falling reports whether the second half of a piece is softer than the first by more than 1 dB,
// and so is sound that decays rather than noise.
func falling(piece []complex128) bool {
	var halves [2]float64
	for i, v := range piece {
		halves[2*i/len(piece)] += square(v)
	}
	return halves[0] > 1.26*halves[1]
}

// Transfer returns the signal of a transfer p in Pa·s/m³ over a grid of even steps in Hz, as
// [response.DecayGrid] has them, on the scale of the room gain ([model.RoomGain]). A step of
// 0.5 Hz holds two seconds. What lies within 5 Hz of the ends is faded out. It fails if the
// steps are not even, if there are fewer than 40, or if the lengths differ.
func Transfer(grid model.Grid, p []complex128, air model.Air) (*Signal, error) {
	if len(grid) != len(p) || len(grid) < 40 {
		return nil, fmt.Errorf("spectraldecay: a transfer of %d values over %d frequencies; 40 are the least", len(p), len(grid))
	}
	step := grid[1] - grid[0]
	first := int(math.Round(grid[0] / step))
	top := grid[len(grid)-1]
	spectrum := make([]complex128, first+len(grid))
	for i, f := range grid {
		if math.Abs(f-float64(first+i)*step) > 1e-6*step {
			return nil, fmt.Errorf("spectraldecay: %g Hz at position %d of a grid in steps of %g Hz", f, i+1, step)
		}
		h := p[i] * complex(0, -2/(f*air.Density)) // 4π/(jωρ)
		fade := rise(f, grid[0]-step, grid[0]+5) * rise(-f, -top-step, -top+5)
		spectrum[first+i] = h * complex(fade*step, 0)
	}
	s := newSignal(spectrum, step)
	// The circle is cut before the sound: the fades ring a little beforehand.
	before := len(s.values) / 5
	s.values = append(append([]complex128{}, s.values[len(s.values)-before:]...), s.values[:len(s.values)-before]...)
	s.first, s.from, s.to = -float64(before)*s.step, grid[0]+5, min(highest, top-5)
	return s, nil
}

// rise is 0 up to a, 1 from b on and half a cosine between.
func rise(f, a, b float64) float64 {
	return (1 - math.Cos(math.Pi*max(0, min(1, (f-a)/(b-a))))) / 2
}

// newSignal turns a spectrum, given times its even step in Hz, from 0 Hz on, into a density over
// time: ∫ v e^{-j2πft} dt is the spectrum.
func newSignal(spectrum []complex128, step float64) *Signal {
	n := 1
	for float64(n)*step < 1.5*ceiling {
		n *= 2
	}
	padded := make([]complex128, n)
	copy(padded, spectrum)
	return &Signal{values: fourier.NewCmplxFFT(n).Sequence(nil, padded), step: 1 / (float64(n) * step)}
}

package absorber

import "math"

// Resonance is a sheet of a stack that swings on what is behind it.
type Resonance struct {
	Layer     int     // index into the stack's layers
	Frequency float64 // Hz
}

// Resonances returns, from front to back, the resonance of every film, panel and
// perforated sheet with all that lies behind it: the lowest frequency from 10 Hz
// to 5 kHz at which the reactance of that part alone rises through zero at normal
// incidence. A sheet with nothing behind it has none.
func (s *Stack) Resonances() []Resonance {
	var list []Resonance
	for i := range s.layers {
		if s.form(i).Fills() {
			continue
		}
		part := *s
		part.layers, part.source = s.layers[i:], s.source[i:]
		reactance := func(f float64) float64 { return imag(part.SurfaceImpedance(f, 0)) }
		if f, ok := rise(reactance, 0, 10, 5000); ok {
			list = append(list, Resonance{Layer: i, Frequency: f})
		}
	}
	return list
}

// topFrequency is where the search for half absorption ends, Hz.
const topFrequency = 5000

// ReflectsAbove returns the frequency in Hz from which the stack reflects
// more than half of the energy at normal incidence, all the way up to 5 kHz. ok
// is false if it absorbs more than half at 5 kHz, as bare wool does, or never
// absorbs half between 20 Hz and 5 kHz.
func (s *Stack) ReflectsAbove() (f float64, ok bool) {
	const steps = 480 // 1/60 octave
	ratio := math.Pow(20.0/topFrequency, 1.0/steps)
	above := func(f float64) float64 { return s.NormalAbsorption(f) - 0.5 }
	if above(topFrequency) >= 0 {
		return 0, false
	}
	for f := float64(topFrequency); f > 20; f *= ratio {
		if above(f*ratio) >= 0 {
			return bisect(func(f float64) float64 { return -above(f) }, f*ratio, f), true
		}
	}
	return 0, false
}

// HalfFrom returns the lowest frequency in Hz from 20 Hz up at which the stack
// absorbs half of the energy at normal incidence; ok is false if it does not up
// to 5 kHz.
func (s *Stack) HalfFrom() (f float64, ok bool) {
	if s.NormalAbsorption(20) >= 0.5 {
		return 20, true
	}
	return rise(s.NormalAbsorption, 0.5, 20, topFrequency)
}

// rise returns the lowest frequency between two limits at which a continuous
// function of frequency climbs through a value.
func rise(of func(float64) float64, value, from, to float64) (float64, bool) {
	const ratio = 1.0116 // 1/60 octave
	low := of(from) < value
	for f := from; f < to; f *= ratio {
		next := of(f*ratio) < value
		if low && !next {
			return bisect(func(f float64) float64 { return of(f) - value }, f, f*ratio), true
		}
		low = next
	}
	return 0, false
}

// bisect returns the frequency between a and b at which a function goes from
// below to above zero.
func bisect(of func(float64) float64, a, b float64) float64 {
	for range 60 {
		mid := (a + b) / 2
		if of(mid) < 0 {
			a = mid
		} else {
			b = mid
		}
	}
	return (a + b) / 2
}

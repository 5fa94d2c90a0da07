package march

import (
	"math"
	"math/cmplx"
)

// pulse is the volume velocity that starts a run: the derivative of a Gaussian. Its sum is zero, so
// that it leaves no air behind in a closed room. Its spectrum
//
//	|Q| ~ f exp(-(f/f0)²),  f0 = 2/3 of the highest frequency wanted
//
// has fallen by 100 dB at 2.5 times that frequency, so that a run can be recorded at a low rate.
// Coarse cells get a slower pulse, since waves near the cutoff of the grid hardly meet the walls
// and would ring on.
type pulse struct {
	width float64   // of the Gaussian exp(-(t/width)²), s
	delay float64   // s
	step  float64   // s
	len   int       // in steps
	flow  []float64 // Q in the middle of each step, m³/s up to a constant
}

// newPulse returns the pulse for frequencies up to highest on a grid with the given cutoff, both in
// Hz.
func newPulse(highest, cutoff, step float64) pulse {
	f0 := min(highest/1.5, cutoff/3.4) // e^(-3.4²) is -100 dB
	width := 1 / (math.Pi * f0)        // exp(-(t/w)²) has the spectrum exp(-(πfw)²)
	q := pulse{width: width, delay: 5 * width, step: step, len: int(math.Ceil(10 * width / step))}
	q.flow = make([]float64, q.len)
	for n := range q.flow {
		t := ((float64(n)+0.5)*step - q.delay) / width
		q.flow[n] = -2 * t * math.Exp(-t*t)
	}
	return q
}

// RecordRate returns the lowest rate in Hz at which a run may be recorded, for frequencies up to
// highest in Hz.
func RecordRate(highest float64) float64 { return 3.5 * highest }

// at returns Q in the middle of step n, before, in or after the pulse.
func (q pulse) at(n int) float64 {
	if n < 0 || n >= q.len {
		return 0
	}
	return q.flow[n]
}

// spectrum returns the sum of Q(n) e^{-jφ(n+1/2)} over all steps.
func (q pulse) spectrum(phase complex128) complex128 {
	one := cmplx.Exp(-1i * phase)
	at := cmplx.Exp(-1i * phase / 2)
	var sum complex128
	for _, flow := range q.flow {
		sum += complex(flow*real(at), flow*imag(at))
		at *= one
	}
	return sum
}

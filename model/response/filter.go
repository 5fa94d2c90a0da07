package response

import (
	"fmt"
	"math"
	"math/cmplx"

	"evenbass/model"
)

// LowPass returns the response at f of the filter's low-pass with its corner at the
// given frequency, both in Hz; e^{+jωt}. With s = jf/corner:
//
//	2nd order Butterworth     1/(s² + √2 s + 1)
//	4th order Butterworth     1/((s² + 2 sin(π/8) s + 1)(s² + 2 cos(π/8) s + 1))
//	4th order Linkwitz-Riley  1/(s² + √2 s + 1)²
//
// S. Butterworth, Experimental Wireless 7 (1930) 536; S. H. Linkwitz, JAES 24(1) (1976) 2.
// It panics on a filter it does not know.
func LowPass(filter model.Filter, corner, f float64) complex128 {
	s := complex(0, f/corner)
	quadratic := func(damping float64) complex128 { return s*s + complex(damping, 0)*s + 1 }
	switch filter {
	case model.Butterworth2:
		return 1 / quadratic(math.Sqrt2)
	case model.Butterworth4:
		return 1 / (quadratic(2*math.Sin(math.Pi/8)) * quadratic(2*math.Cos(math.Pi/8)))
	case model.LinkwitzRiley4:
		q := quadratic(math.Sqrt2)
		return 1 / (q * q)
	}
	panic(fmt.Sprintf("response: no filter %v", filter))
}

// HighPass returns the response at f of the filter's high-pass: the low-pass times s to
// the power of its order.
func HighPass(filter model.Filter, corner, f float64) complex128 {
	s := complex(0, f/corner)
	low := LowPass(filter, corner, f)
	if filter == model.Butterworth2 {
		return s * s * low
	}
	return s * s * s * s * low
}

// RollOff returns the response at f in Hz of a loudspeaker that is flat outdoors above its
// low limit: a high-pass of Butterworth alignment, of second order for a sealed box and of
// fourth for a ported one, see [model.RollOff]. A limit of 0 gives 1.
func RollOff(r model.RollOff, f float64) complex128 {
	switch {
	case r.Limit == 0:
		return 1
	case r.Alignment == model.Ported:
		return HighPass(model.Butterworth4, r.Limit, f)
	}
	return HighPass(model.Butterworth2, r.Limit, f)
}

// Delayed returns the response at f in Hz of a delay in s.
func Delayed(delay, f float64) complex128 { return cmplx.Rect(1, -2*math.Pi*f*delay) }

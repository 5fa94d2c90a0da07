package resonance

import (
	"evenbass/model/kaiser"
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/floats"
)

// Widths of a band, Hz.
const (
	width = 20.0
	skirt = 10.0
)

// longest is the longest signal of a band that is looked at, s.
const longest = 2.5

// band is a part of the range, looked at by itself.
type band struct{ from, to float64 } // Hz

// cut cuts the range into bands.
func cut(s Settings) []band {
	n := math.Ceil((s.To - s.From) / width)
	var list []band
	for i := range int(n) {
		step := (s.To - s.From) / n
		list = append(list, band{s.From + float64(i)*step, s.From + float64(i+1)*step})
	}
	return list
}

// signal is a band's part of a response, shifted down so that origin is at zero, from where
// the sound begins.
type signal struct {
	values []float64
	step   float64 // Δ, s
	origin float64 // Hz
	gain   func(pole complex128) complex128
}

// signal filters a response. The filter looks ahead: sample n is made of the samples from nΔ
// on, so that A e^{st} becomes A H(s) e^{st} from n = 0.
func (b band) signal(r Response, rate float64) signal {
	origin := b.from - skirt
	decimation := max(1, int(rate/(2*(b.to-b.from+2*skirt))))
	taps := lookAhead((b.from+b.to)/2, (b.to-b.from+skirt)/2, rate)
	s := signal{step: float64(decimation) / rate, origin: origin}
	for n := 0; r.Begin+n*decimation+len(taps) <= len(r.Samples) && float64(n)*s.step < longest; n++ {
		at := n * decimation
		var sum complex128
		for k, x := range r.Samples[r.Begin+at : r.Begin+at+len(taps)] {
			sum += taps[k] * complex(x, 0)
		}
		s.values = append(s.values, real(sum*cmplx.Rect(1, -2*math.Pi*origin*float64(at)/rate)))
	}
	s.gain = func(pole complex128) complex128 {
		z := cmplx.Exp(pole / complex(rate, 0))
		var h complex128
		for k := len(taps) - 1; k >= 0; k-- {
			h = h*z + taps[k]
		}
		return h
	}
	return s
}

// attenuation of the filter beyond its skirts, dB.
const attenuation = 70.0

// lookAhead returns the taps of a filter that passes the frequencies about a centre, so far on
// either side at half height, by Kaiser's window (Kaiser 1974; Oppenheim & Schafer,
// Discrete-Time Signal Processing, §7.5.3).
func lookAhead(centre, half, rate float64) []complex128 {
	n := int((attenuation-8)/(2.285*2*math.Pi*skirt/rate)) + 1
	beta := 0.1102 * (attenuation - 8.7)
	taps := make([]complex128, n)
	middle := float64(n-1) / 2
	for k := range taps {
		t := float64(k) - middle
		ideal := 2 * half / rate
		if t != 0 {
			ideal = math.Sin(2*math.Pi*half*t/rate) / (math.Pi * t)
		}
		x := 2*float64(k)/float64(n-1) - 1
		taps[k] = cmplx.Rect(ideal*kaiser.Window(beta, x), -2*math.Pi*centre*float64(k)/rate)
	}
	return taps
}

// ringing returns how many samples of a signal stand above its noise: up to where blocks of
// 0.1 s sink to within 3 dB of the last fifth.
func (s signal) ringing() int {
	size := max(2, int(0.1/s.step))
	if len(s.values) < 3*size {
		return len(s.values)
	}
	power := func(v []float64) float64 { return floats.Dot(v, v) / float64(len(v)) }
	noise := 2 * power(s.values[len(s.values)*4/5:])
	for i := size; i+size <= len(s.values); i += size {
		if power(s.values[i:i+size]) < noise {
			return min(len(s.values), i+size)
		}
	}
	return len(s.values)
}

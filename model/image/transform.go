package image

import (
	"math"
	"math/cmplx"

	"evenbass/model"
)

// plan takes a series to a list of frequencies.
type plan struct {
	window []float64 // what the last samples are multiplied by
	bands  []bandPlan
}

// bandPlan is the part of the frequencies in which one band has weight.
type bandPlan struct {
	index  []int        // of the frequencies
	step   []complex128 // e^{-jω(1-jη)/rate} by frequency
	factor []complex128 // what the sum is multiplied by, the weight included
}

// newPlan prepares the transform to p = jωρ Σ/(4π) at the given frequencies. The
// last samples fade over a share of the length.
func newPlan(s *spreader, air model.Air, frequencies []float64, fading float64) *plan {
	p := &plan{
		window: endWindow(int(fading*s.length*s.perMetre), steepness),
		bands:  make([]bandPlan, len(s.bands.walls)),
	}
	for j, f := range frequencies {
		omega := air.Wavenumber(f) * complex(1/s.perMetre, 0)
		step := cmplx.Exp(omega * -1i)
		lead := cmplx.Exp(omega * complex(0, float64(s.kernel.lead())))
		factor := complex(0, f*air.Density/2) * lead / s.kernel.transform(omega) // jωρ/(4π)
		for i := range p.bands {
			if w := s.bands.weight(i, f); w != 0 {
				b := &p.bands[i]
				b.index = append(b.index, j)
				b.step = append(b.step, step)
				b.factor = append(b.factor, complex(w, 0)*factor)
			}
		}
	}
	return p
}

// run adds the transform of a series to dst; scratch must have room for a column.
func (p *plan) run(dst []complex128, s *series, scratch []float64) {
	per := s.columns / len(p.bands) // 2 if complex
	h := scratch[:len(s.samples)/s.columns]
	for c := range s.columns {
		unit := complex(1, 0)
		if c%per == 1 {
			unit = 1i
		}
		for i := range h {
			h[i] = s.samples[i*s.columns+c]
		}
		fade(h, p.window)
		p.bands[c/per].polynomials(dst, h, unit)
	}
}

// polynomials adds unit · factor · Σ h[i] step^i at every frequency by Horner's
// rule, four frequencies at a time so that one does not wait for the other.
func (b *bandPlan) polynomials(dst []complex128, h []float64, unit complex128) {
	n := len(b.step)
	for j := 0; j < n; j += 4 {
		var z [4]complex128
		copy(z[:], b.step[j:])
		s := fourPolynomials(&z, h)
		for i := j; i < min(j+4, n); i++ {
			dst[b.index[i]] += unit * b.factor[i] * s[i-j]
		}
	}
}

func fourPolynomials(z *[4]complex128, h []float64) [4]complex128 {
	var s0, s1, s2, s3 complex128
	z0, z1, z2, z3 := z[0], z[1], z[2], z[3]
	for i := len(h) - 1; i >= 0; i-- {
		v := complex(h[i], 0)
		s0 = s0*z0 + v
		s1 = s1*z1 + v
		s2 = s2*z2 + v
		s3 = s3*z3 + v
	}
	return [4]complex128{s0, s1, s2, s3}
}

// fade multiplies the end of h by a window.
func fade(h, window []float64) {
	end := h[len(h)-len(window):]
	for i, w := range window {
		end[i] *= w
	}
}

// steepness of the end window: it leaves steps of erfc(2.5)/2 = 2e-4 at its ends.
const steepness = 2.5

// endWindow falls from one to zero over n samples as erfc(s(2x-1))/2, a step smoothed
// by a Gaussian. Images within a sphere add up to a wave front of their own where
// they end at once; at a smooth end they cancel. The larger the steepness s, the
// smaller the steps at both ends of the window and the less smooth its middle.
func endWindow(n int, s float64) []float64 {
	w := make([]float64, n)
	for i := range w {
		x := (float64(i) + 0.5) / float64(n)
		w[i] = math.Erfc(s*(2*x-1)) / 2
	}
	return w
}

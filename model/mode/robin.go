package mode

import (
	"math"
	"math/cmplx"
)

// ends is the one-dimensional problem of one axis at one frequency without its
// length: d²ψ/dx² + uψ = 0 on 0..1 with ψ'(0) = aψ(0), ψ'(1) = -bψ(1). With length L
// and wavenumber k, a = jkβ0L, b = jkβLL and u = (qL)².
type ends struct{ a, b complex128 }

// newEnds returns the problem of an axis between walls of kβ = near and far, 1/m. Walls that differ only by
// rounding are made equal.
func newEnds(length float64, near, far complex128) ends {
	jl := complex(0, length)
	e := ends{a: jl * near, b: jl * far}
	if cmplx.Abs(e.a-e.b) < 1e-9*cmplx.Abs(e.a+e.b) {
		e.a = (e.a + e.b) / 2
		e.b = e.a
	}
	return e
}

// The eigenvalues are the zeros in u of
//
//	F(u) = (u - ab) S(u) - (a+b) C(u),  S = sin(t)/t, C = cos(t), t = √u,
//
// which is entire, of order 1/2. Between equal walls the modes are even or odd
// about the middle, and F = 2 F1 F2 with a factor for each:
//
//	F1(u) = uS(u/4)/2 - aC(u/4),  F2(u) = C(u/4) + aS(u/4)/2

// logSlope returns F'/F at u, which is Σ 1/(u-uj) over all eigenvalues. At a zero of F it is infinite. The
// factors keep two eigenvalues apart that lie so close that F, which touches zero there, cannot separate
// them.
func (e ends) logSlope(u complex128) complex128 {
	if e.a == e.b {
		even, evenSlope, odd, oddSlope := e.factors(u)
		return evenSlope/even + oddSlope/odd
	}
	c, s, slope := trig(u)
	rest, sum := u-e.a*e.b, e.a+e.b
	return (s + rest*slope + sum*s/2) / (rest*s - sum*c)
}

// factors returns F1 and F2 with their derivatives, all times one positive number.
func (e ends) factors(u complex128) (even, evenSlope, odd, oddSlope complex128) {
	c, s, slope := trig(u / 4)
	return u*s/2 - e.a*c, s/2 + u*slope/8 + e.a*s/8, c + e.a*s/2, -s/8 + e.a*slope/8
}

// trig returns cos t, sin(t)/t and the derivative of the latter in u, all times
// e^{-|Im t|} so that nothing overflows.
func trig(u complex128) (c, s, slope complex128) {
	t := cmplx.Sqrt(u)
	sr, cr := math.Sincos(real(t))
	y := math.Abs(imag(t))
	scale := math.Exp(-y)
	ch, sh := (1+scale*scale)/2, math.Copysign(-math.Expm1(-2*y)/2, imag(t))
	c = complex(cr*ch, -sr*sh)
	if cmplx.Abs(u) < 1e-3 {
		k := complex(scale, 0)
		return c, k * (1 - u/6*(1-u/20*(1-u/42))), k * (-1.0/6 + u/60*(1-u/28*(1-u/54)))
	}
	s = complex(sr*ch, cr*sh) / t
	return c, s, (c - s) / (2 * u)
}

// settled returns the least M from which on the disc |√u| < (M+½)π holds exactly
// M+1 eigenvalues, and each further ring of width π in |√u| one more. That is
// Rouché's theorem for F against its rigid part t sin t: on those circles
// |cot t| < 1.1, so that 1.1|a+b|/R + |ab|/R² < 1 suffices.
func (e ends) settled() int {
	sum, ab := 1.1*cmplx.Abs(e.a+e.b), cmplx.Abs(e.a*e.b)
	r := (sum + math.Sqrt(sum*sum+4*ab)) / 2 * 1.02
	return max(0, int(math.Ceil(r/math.Pi-0.5)))
}

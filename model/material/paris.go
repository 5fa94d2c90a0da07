package material

import (
	"math"
	"math/cmplx"
)

// A locally reacting surface of real specific impedance absorbs at most MaxRandomAbsorption of a diffuse
// field, and that at ImpedanceOfMax; softer and harder surfaces absorb less. F. P. Mechel, Formulas of
// Acoustics, sect. D.5, prints 0.951.
const (
	MaxRandomAbsorption = 0.9512220138444182
	ImpedanceOfMax      = 1.5669241690348445
)

// ReflectionAt returns the pressure reflection factor of a locally reacting surface
// of specific admittance β for a plane wave at an angle θ from the normal:
//
//	R = (cos θ - β) / (cos θ + β)
func ReflectionAt(beta complex128, cos float64) complex128 {
	c := complex(cos, 0)
	return (c - beta) / (c + beta)
}

// AbsorptionAt returns 1 - |R|² of the same surface, without the difference of two
// near equals:
//
//	α = 4 Re β cos θ / |cos θ + β|²
func AbsorptionAt(beta complex128, cos float64) float64 {
	return 4 * real(beta) * cos / (sq(real(beta)+cos) + sq(imag(beta)))
}

// RandomAbsorption returns the absorption of a locally reacting surface of
// specific impedance ζ = r + jx in a diffuse field: the mean over all angles,
// each weighted by cos θ (Paris 1928), in closed form (A. London, JASA 22
// (1950) 263):
//
//	α = 2 ∫ α(θ) cos θ sin θ dθ,   θ from 0 to π/2
//	  = 8r/|ζ|² { 1 + (r² - x²)/(x|ζ|²) atan[x/(1+r)] - r/|ζ|² ln[(1+r)² + x²] }
//
// An infinite ζ gives 0. An active surface, r < 0, gives a negative value.
func RandomAbsorption(zeta complex128) float64 {
	r, x := real(zeta), math.Abs(imag(zeta))
	abs := cmplx.Abs(zeta)
	switch {
	case r == 0 || abs > 1e100:
		return 0
	case abs < 0.1:
		return softRandomAbsorption(r, abs*abs)
	}
	turn := 1 / (1 + r) // atan[x/(1+r)]/x for x -> 0
	if x > 0 {
		turn = math.Atan2(x, 1+r) / x
	}
	sum := abs * abs
	return 8 * r / sum * (1 + (r-x)*(r+x)/sum*turn - r/sum*math.Log(sq(1+r)+x*x))
}

// softRandomAbsorption is the same integral as a power series, for |ζ| < 0.1
// where the terms of the closed form cancel. With a = |ζ|² it expands
//
//	8r ∫ u²/(1 + 2ru + au²) du,   u from 0 to 1
func softRandomAbsorption(r, a float64) float64 {
	var sum float64
	last, term := 0.0, 1.0
	for n := range 24 {
		sum += term / float64(n+3)
		last, term = term, -2*r*term-a*last
	}
	return 8 * r * sum
}

// ImpedanceOfRandom returns the real specific impedance, on the hard side of the
// maximum (ζ >= [ImpedanceOfMax]), of a locally reacting surface with the given
// random-incidence absorption. Walls are on that side; so is every table row
// that is read as a wall.
//
// Zero gives +Inf. Above [MaxRandomAbsorption] no such surface exists: the
// result is [ImpedanceOfMax] and ok is false. Negative values and NaN give +Inf
// and false. Tables after ISO 354 may print 1 and more: the edges of a sample
// make it look larger than it is.
func ImpedanceOfRandom(alpha float64) (zeta float64, ok bool) {
	switch {
	case !(alpha > 0):
		return math.Inf(1), alpha == 0
	case alpha >= MaxRandomAbsorption:
		return ImpedanceOfMax, alpha == MaxRandomAbsorption
	case alpha < 1e-20:
		return 8 / alpha, true // to the last digit
	}
	// Between the maximum and 8/α, which the absorption never reaches, α falls
	// steadily. Regula falsi in ln ζ and ln α, where the curve is nearly straight;
	// the end that stays is halved in weight (Illinois rule) so that both move.
	excess := func(x float64) float64 { return math.Log(RandomAbsorption(complex(math.Exp(x), 0)) / alpha) }
	a, b := math.Log(ImpedanceOfMax), math.Log(8/alpha)
	ya, yb := math.Log(MaxRandomAbsorption/alpha), excess(b)
	for range 60 {
		x := b - yb*(b-a)/(yb-ya)
		y := excess(x)
		if (y < 0) != (yb < 0) {
			a, ya = b, yb
		} else {
			ya /= 2
		}
		b, yb = x, y
		if math.Abs(y) < 2e-15 || a == b {
			break
		}
	}
	return math.Exp(b), true
}

func sq(x float64) float64 { return x * x }

package mode

import "math"

// wave returns e^{-jqx} and e^{jqx}.
func wave(q complex128, x float64) (minus, plus complex128) {
	s, c := math.Sincos(real(q) * x)
	r := math.Exp(imag(q) * x)
	i := 1 / r
	return complex(r*c, -r*s), complex(i*c, i*s)
}

// falling returns e^{-jqx} alone.
func falling(q complex128, x float64) complex128 {
	s, c := math.Sincos(real(q) * x)
	r := math.Exp(imag(q) * x)
	return complex(r*c, -r*s)
}

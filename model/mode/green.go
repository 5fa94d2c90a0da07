package mode

import "math/cmplx"

// The Green function of one axis, d²g/dx² + κ²g = -δ(x-xs), between walls of
// admittance kβ0 and kβL: with s the nearer to 0 of the two places and r the
// other's distance from the wall at L,
//
//	g = u0(s) uL(r) e^{-jκ(L-r)} / (2jκ (A0AL - B0BL e^{-2jκL}))
//	u0(s) = A0 e^{jκs} + B0 e^{-jκs},  uL(r) = AL + BL e^{-2jκr}
//	A = κ + kβ, B = κ - kβ
//
// which is Morse & Ingard 1968, §9.4, arranged so that only u0 holds a growing
// exponential; that one never outgrows its partner e^{-jκ(L-r)}.

// gain returns 1/(2jκ(A0AL - B0BL e^{-2jκL})).
func (ax *axis) gain(kappa complex128) complex128 {
	round := cmplx.Exp(complex(0, -2*ax.length) * kappa)
	loop := (kappa+ax.near)*(kappa+ax.far) - (kappa-ax.near)*(kappa-ax.far)*round
	return 1 / (2i * kappa * loop)
}

// behind returns uL(r) e^{-jκ(L-r)}: the factor of a place at x that has the other
// one on its side towards 0, or towards L if mirrored.
func (ax *axis) behind(kappa complex128, x float64, mirrored bool) complex128 {
	wall := ax.far
	if mirrored {
		x, wall = ax.length-x, ax.near
	}
	back := falling(kappa, ax.length-x)
	return falling(kappa, x) * (kappa + wall + (kappa-wall)*back*back)
}

// before returns u0(s), or the same for the wall at L if mirrored: the factor of
// the place that is nearer to the wall.
func (ax *axis) before(kappa complex128, x float64, mirrored bool) complex128 {
	wall := ax.near
	if mirrored {
		x, wall = ax.length-x, ax.far
	}
	plus, minus := wave(-kappa, x) // e^{jκx}, e^{-jκx}
	return (kappa+wall)*plus + (kappa-wall)*minus
}

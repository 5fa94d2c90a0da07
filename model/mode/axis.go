package mode

import (
	"math/cmplx"
)

// axis is one axis of the box at one frequency.
type axis struct {
	length    float64    // m
	near, far complex128 // kβ of the walls at 0 and at length, 1/m
	modes     []axisMode // ascending Re q
}

// axisMode is one driven mode along an axis,
//
//	ψ(x) = up e^{jqx} + down e^{-jqx}.
type axisMode struct {
	square   complex128 // q², 1/m²
	q        complex128 // 1/m, Im q ≥ 0
	up, down complex128
	norm     complex128 // Λ = ∫ψ² dx, m
}

// newAxis finds the first n or more modes of an axis.
func newAxis(length float64, near, far complex128, n int) (axis, error) {
	e := newEnds(length, near, far)
	us, err := e.eigenvalues(n)
	if err != nil {
		return axis{}, err
	}
	ax := axis{length: length, near: near, far: far, modes: make([]axisMode, len(us))}
	for i, u := range us {
		alpha, gamma := e.amplitudes(rootOf(u))
		if e.a == e.b && i > 0 && cmplx.Abs(u-us[i-1]) < 1e-7*cmplx.Abs(u) && (alpha == gamma) == ax.modes[i-1].even() {
			alpha = -alpha // two waves clinging to one wall each: an even and an odd sum
		}
		ax.modes[i] = newAxisMode(u, alpha, gamma, complex(length, 0))
	}
	return ax, nil
}

// rootOf returns t = √u with Im t ≥ 0, moved off zero: there rigid walls have ψ = 1
// and what is returned makes it 1 to 5e-11.
func rootOf(u complex128) complex128 {
	t := cmplx.Sqrt(u)
	if imag(t) < 0 {
		t = -t
	}
	if cmplx.Abs(t) < 1e-5 {
		t = 1e-5
	}
	return t
}

// amplitudes returns the mode as α e^{jqx} + γ e^{jq(L-x)}, in which both terms
// are at most of order one. The wall at 0 asks for α(t+ja) = γE(t-ja) and the other
// one for γ(t+jb) = αE(t-jb), E = e^{jt}. Of the two the one that does not divide
// by nearly nothing is used: for a wave that clings to one wall the other is all
// rounding error. Between equal walls α = ±γ.
func (e ends) amplitudes(t complex128) (alpha, gamma complex128) {
	decay := cmplx.Exp(1i * t)
	a, b := t+1i*e.a, t+1i*e.b
	switch {
	case e.a == e.b:
		even, evenSlope, odd, oddSlope := e.factors(t * t)
		if cmplx.Abs(even*oddSlope) <= cmplx.Abs(odd*evenSlope) {
			return 1, 1
		}
		return -1, 1
	case cmplx.Abs(a) >= cmplx.Abs(b):
		return decay * (t - 1i*e.a) / a, 1
	}
	return 1, decay * (t - 1i*e.b) / b
}

// newAxisMode returns the mode of eigenvalue u on an axis of length l.
func newAxisMode(u, alpha, gamma, l complex128) axisMode {
	t := rootOf(u)
	decay := cmplx.Exp(1i * t)
	return axisMode{
		square: u / (l * l),
		q:      t / l,
		up:     alpha,
		down:   gamma * decay,
		norm: l * ((alpha*alpha+gamma*gamma)*(decay*decay-1)/(2i*t) +
			2*alpha*gamma*decay),
	}
}

// even reports whether the mode of an axis between equal walls is even.
func (m *axisMode) even() bool { return m.up == 1 }

// at returns ψ at a place x in m on the axis.
func (m *axisMode) at(x float64) complex128 {
	grow, wane := wave(m.q, x)
	return m.up*wane + m.down*grow
}

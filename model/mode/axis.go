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
		ax.modes[i] = e.mode(u, complex(length, 0))
	}
	return ax, nil
}

// mode returns the mode of an eigenvalue on an axis of length l.
//
// Written with α e^{jqx} + γ e^{jq(l-x)}, where both terms are at most of order
// one, the wall at 0 asks for α(t+ja) = γE(t-ja) and the other one for γ(t+jb) =
// αE(t-jb), E = e^{jt}. Of the two the one that does not divide by nearly nothing
// is used: for a wave that clings to one wall the other is all rounding error.
func (e ends) mode(u, l complex128) axisMode {
	t := cmplx.Sqrt(u)
	if imag(t) < 0 {
		t = -t
	}
	if cmplx.Abs(t) < 1e-5 { // rigid walls: ψ is 1 to 5e-11
		t = 1e-5
	}
	var alpha, gamma complex128
	decay := cmplx.Exp(1i * t)
	if a, b := t+1i*e.a, t+1i*e.b; cmplx.Abs(a) >= cmplx.Abs(b) {
		alpha, gamma = decay*(t-1i*e.a)/a, 1
	} else {
		alpha, gamma = 1, decay*(t-1i*e.b)/b
	}
	return axisMode{
		square: u / (l * l),
		q:      t / l,
		up:     alpha,
		down:   gamma * decay,
		norm: l * ((alpha*alpha+gamma*gamma)*(decay*decay-1)/(2i*t) +
			2*alpha*gamma*decay),
	}
}

// at returns ψ at a place x in m on the axis.
func (m *axisMode) at(x float64) complex128 {
	grow, wane := wave(m.q, x)
	return m.up*wane + m.down*grow
}

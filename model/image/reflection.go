package image

import (
	"math"

	"evenbass/model"
)

// Reflection returns the plane-wave reflection factor of a locally reacting
// surface with specific admittance β at an angle θ from its normal,
//
//	R = (cosθ - β) / (cosθ + β)      Morse & Ingard 1968; Kuttruff, Room
//	                                 Acoustics, on reflection at oblique incidence
//
// A rigid surface gives 1 at every angle, grazing included; any other gives -1 at
// grazing incidence.
func Reflection(beta complex128, cosine float64) complex128 {
	if beta == 0 {
		return 1
	}
	c := complex(cosine, 0)
	return (c - beta) / (c + beta)
}

// power returns x^n for n >= 0.
func power(x complex128, n int) complex128 {
	if x == 1 {
		return 1
	}
	y := complex(1, 0)
	for ; n > 0; n >>= 1 {
		if n&1 == 1 {
			y *= x
		}
		x *= x
	}
	return y
}

// walls is β of the six faces at one frequency.
type walls [6]complex128

func wallsAt(box *model.Box, f float64) walls {
	var w walls
	for _, face := range model.Faces {
		w[face] = box.Admittance(face, f)
	}
	return w
}

// pair returns R^near of the near wall times R^far of the far wall of an axis.
func (w *walls) pair(axis, near, far int, cosine float64) complex128 {
	return power(Reflection(w[2*axis], cosine), near) *
		power(Reflection(w[2*axis+1], cosine), far)
}

// real reports whether no wall has an imaginary part.
func (w *walls) real() bool {
	for _, beta := range w {
		if imag(beta) != 0 {
			return false
		}
	}
	return true
}

// passive reports whether every wall is a finite passive one; if not, it returns
// the first face that is none.
func (w *walls) passive() (model.Face, bool) {
	for i, beta := range w {
		// The comparison is written so that NaN fails it.
		if !(real(beta) >= 0) || math.IsInf(real(beta), 0) ||
			math.IsNaN(imag(beta)) || math.IsInf(imag(beta), 0) {
			return model.Face(i), false
		}
	}
	return 0, true
}

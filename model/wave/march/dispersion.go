package march

import (
	"math/cmplx"

	"evenbass/model"
)

// dispersion maps a frequency to the one at which the grid does what air does at it.
//
// A plane wave of wavenumber k in the 19-point stencil has
//
//	Ω²/c² = k² (1 - x/12 + 0.0031 x²),   x = (kH)²
//
// The first two terms are exact (Taylor). The third is a mean over directions: 1/360 along an axis,
// 0.0034 along a space diagonal.
type dispersion struct {
	air    model.Air
	square float64 // H², m²
	step   float64 // T, s
}

const sixthOrder = 0.0031

// grid returns Ω in rad/s for an angular frequency w in rad/s.
func (d dispersion) grid(w complex128) complex128 {
	x := d.turnSquared(w)
	return w * cmplx.Sqrt(1-x/12+sixthOrder*x*x)
}

// turnSquared returns (kH)².
func (d dispersion) turnSquared(w complex128) complex128 {
	return w * w * complex(d.square/(d.air.Speed*d.air.Speed), 0)
}

// lossy returns the complex frequency at which lossless air does what this air does at w in rad/s.
// In a medium with k = (ω/c)(1 - jη) the Green function is that of lossless air at ω(1 - jη); walls
// are taken at that frequency too.
func (d dispersion) lossy(w float64) complex128 { return complex(w, -w*d.air.Loss) }

// phase returns ω'T in rad, the phase per step at which the run is transformed. With losses it is
// complex, and the transform damps.
func (d dispersion) phase(w float64) complex128 {
	return 2 * cmplx.Asin(d.grid(d.lossy(w))*complex(d.step/2, 0))
}

// gain returns the factor from p/Q of the run to the true p/Q: the residue of a mode grows by
// 1/(dΩ²/dω²), and the source's jΩ stands for jω.
func (d dispersion) gain(w float64) complex128 {
	at := d.lossy(w)
	x := d.turnSquared(at)
	return complex(w, 0) / d.grid(at) * (1 - x/6 + 3*sixthOrder*x*x)
}

package wave

import (
	"math"
	"math/cmplx"

	"evenbass/model"
)

// warp maps a frequency to the one at which the grid does what air does there.
//
// A plane wave of wavenumber k in the 19-point stencil has
//
//	Ω²/c² = k² (1 - x/12 + 0.0031 x²),   x = (kH)²
//
// exact in the first two terms (Taylor), the third a mean over directions: 1/360
// along an axis, 0.0034 along a space diagonal.
type warp struct {
	air    model.Air
	square float64 // H², m²
	step   float64 // T, s
}

const sixthOrder = 0.0031

// grid returns Ω in rad/s for an angular frequency w in rad/s.
func (d warp) grid(w float64) float64 {
	x := w * w / (d.air.Speed * d.air.Speed) * d.square
	return w * math.Sqrt(1-x/12+sixthOrder*x*x)
}

// phase returns ω'T in rad, the phase per step at which the run is to be
// transformed; with losses it is complex and the transform damps.
//
// In a medium of k = (ω/c)(1 - jη) the Green function is that of lossless air at
// the complex frequency ω(1 - jη); walls are then taken there too.
func (d warp) phase(w float64) complex128 {
	real := 2 * math.Asin(d.grid(w)*d.step/2)
	return complex(real, -w*d.air.Loss*d.step)
}

// gain returns the factor from p/Q as run to p/Q as it is: the residue of a mode
// grows by 1/(dΩ²/dω²), and the source's jΩ stands for jω.
func (d warp) gain(w float64) float64 {
	x := w * w / (d.air.Speed * d.air.Speed) * d.square
	return w / d.grid(w) * (1 - x/6 + 3*sixthOrder*x*x)
}

// turn returns e^{-jφ} for a complex phase.
func turn(phase complex128) complex128 { return cmplx.Exp(complex(0, -1) * phase) }

// carried returns the highest frequency of a wave along an axis of the grid, Hz:
// Ω = 2c/h, whatever its wavelength.
func (m *medium) carried() float64 {
	coarse := 0.0
	for a, h := range m.h {
		if m.n[a] > 1 {
			coarse = max(coarse, h)
		}
	}
	return m.air.Speed / (math.Pi * coarse)
}

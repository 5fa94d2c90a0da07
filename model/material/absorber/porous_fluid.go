package absorber

import (
	"fmt"
	"math"
	"math/cmplx"

	"evenbass/model"
)

// Fluid is the medium of a plane wave at one frequency: air, or the air in a porous layer seen as one fluid
// that fills the whole layer. A passive one has Re Zc > 0 and Im k <= 0.
type Fluid struct {
	Impedance  complex128 // characteristic impedance Zc, Pa·s/m
	Wavenumber complex128 // k, 1/m
}

// Density returns the effective density Zc k/ω in kg/m³.
func (m Fluid) Density(f float64) complex128 {
	return m.Impedance * m.Wavenumber / complex(2*math.Pi*f, 0)
}

// Modulus returns the effective bulk modulus ωZc/k in Pa.
func (m Fluid) Modulus(f float64) complex128 {
	return complex(2*math.Pi*f, 0) * m.Impedance / m.Wavenumber
}

// fluidOf returns the fluid of an effective density in kg/m³ and bulk modulus in
// Pa.
func fluidOf(f float64, density, modulus complex128) Fluid {
	z := root(density * modulus)
	return Fluid{Impedance: z, Wavenumber: complex(2*math.Pi*f, 0) * over(density, z)}
}

// root is the principal square root of a number far from the limits of float64,
// several times as fast as that of math/cmplx.
func root(z complex128) complex128 {
	a, b := real(z), imag(z)
	s := math.Sqrt((math.Sqrt(a*a+b*b) + math.Abs(a)) / 2)
	switch {
	case s == 0:
		return 0
	case a >= 0:
		return complex(s, b/(2*s))
	}
	return complex(math.Abs(b)/(2*s), math.Copysign(s, b))
}

// over is a/b for numbers far from the limits of float64, several times as fast
// as the operator.
func over(a, b complex128) complex128 {
	size := real(b)*real(b) + imag(b)*imag(b)
	return complex((real(a)*real(b)+imag(a)*imag(b))/size, (imag(a)*real(b)-real(a)*imag(b))/size)
}

// airFluid returns the air itself, with the losses that it names.
func airFluid(f float64, air model.Air) Fluid {
	return Fluid{Impedance: complex(air.Impedance(), 0), Wavenumber: air.Wavenumber(f)}
}

// Law is a way to compute a porous layer's fluid from what is known about it.
type Law int

const (
	// Johnson is the model of Johnson, Champoux and Allard, see [JohnsonChampouxAllard]. It is physical at
	// any frequency, passive and isothermal at the low end, so it is the law for bass and the default. It
	// needs more than a resistivity: figures that a layer omits are those of a fibrous material.
	Johnson Law = iota
	// MikiLaw is [Miki], from the resistivity alone.
	MikiLaw
	// DelanyBazleyLaw is [DelanyBazley], from the resistivity alone. Outside the
	// range of its data, which is where most bass is, Miki stands in for it.
	DelanyBazleyLaw
	// AllardChampouxLaw is [AllardChampoux], from the resistivity alone.
	AllardChampouxLaw
)

var lawNames = [...]string{"Johnson-Champoux-Allard", "Miki", "Delany-Bazley", "Allard-Champoux"}

// String returns the authors' names.
func (l Law) String() string {
	if l < 0 || int(l) >= len(lawNames) {
		return fmt.Sprintf("Law(%d)", int(l))
	}
	return lawNames[l]
}

// Miki returns the fluid of a fibrous material of flow resistivity σ in Pa·s/m²
// at frequency f in Hz:
//
//	Zc = ρc (1 + 0.070 y^-0.632 - 0.107j y^-0.632)
//	k  = k0 (1 + 0.109 y^-0.618 - 0.160j y^-0.618),   y = f/σ
//
// Y. Miki, J. Acoust. Soc. Jpn (E) 11 (1990) 19: Delany and Bazley's data, fitted
// so that it stays passive. Its data cover 0.01 < y < 1; it behaves well further
// down, but below about y = 0.0008 a thin layer comes out with a negative
// resistance.
func Miki(f, sigma float64, air model.Air) Fluid {
	y := math.Log(f / sigma)
	z, k := math.Exp(-0.632*y), math.Exp(-0.618*y)
	return Fluid{
		Impedance:  complex(air.Impedance(), 0) * complex(1+0.070*z, -0.107*z),
		Wavenumber: air.Wavenumber(f) * complex(1+0.109*k, -0.160*k),
	}
}

// DelanyBazley returns the fluid of a fibrous material of flow resistivity σ in
// Pa·s/m² at frequency f in Hz, and whether X is in the range of the data:
//
//	Zc = ρc (1 + 0.0571 X^-0.754 - 0.087j X^-0.732)
//	k  = k0 (1 + 0.0978 X^-0.700 - 0.189j X^-0.595),   X = ρf/σ, 0.01 < X < 1
//
// M. E. Delany, E. N. Bazley, Applied Acoustics 3 (1970) 105, in the
// dimensionless form of Bies, Hansen and Howard (2017), table D.1. The first
// paper's form in f/σ differs by about one per cent. Below the range a layer can
// come out with a negative resistance.
func DelanyBazley(f, sigma float64, air model.Air) (m Fluid, valid bool) {
	x := air.Density * f / sigma
	l := math.Log(x)
	m = Fluid{
		Impedance:  complex(air.Impedance(), 0) * complex(1+0.0571*math.Exp(-0.754*l), -0.087*math.Exp(-0.732*l)),
		Wavenumber: air.Wavenumber(f) * complex(1+0.0978*math.Exp(-0.700*l), -0.189*math.Exp(-0.595*l)),
	}
	return m, x > 0.01 && x < 1
}

// AllardChampoux returns the fluid of a fibrous material of flow resistivity σ
// in Pa·s/m² at frequency f in Hz, in the closed form for air at 18 °C of J.-F.
// Allard, Y. Champoux, J. Acoust. Soc. Am. 91 (1992) 3346. It turns isothermal
// at the low end.
//
//	ρ = 1.2 + sqrt(-0.0364 x² - 0.1144j x),   x = σ/(1.2 f)
//	K = 101320 (29.64j + s)/(21.17j + s),     s = sqrt(2.82 x² + 24.9j x)
func AllardChampoux(f, sigma float64) Fluid {
	x := complex(sigma/(1.2*f), 0)
	density := 1.2 + cmplx.Sqrt(-0.0364*x*x-0.1144i*x)
	s := cmplx.Sqrt(2.82*x*x + 24.9i*x)
	return fluidOf(f, density, 101320*(29.64i+s)/(21.17i+s))
}

package absorber

import (
	"math"

	"evenbass/model"
)

// Gas holds the properties of air that a porous medium needs beyond [model.Air]. Each zero means air at 20 °C
// and standard pressure.
type Gas struct {
	Viscosity float64 // η, Pa·s; 1.813e-5
	Prandtl   float64 // Pr; 0.71
	HeatRatio float64 // γ; 1.4
	Pressure  float64 // P0, Pa; 101325
}

func (g Gas) withDefaults() Gas {
	g.Viscosity = or(g.Viscosity, 1.813e-5) // Sutherland's law at 20 °C
	g.Prandtl = or(g.Prandtl, 0.71)
	g.HeatRatio = or(g.HeatRatio, 1.4)
	g.Pressure = or(g.Pressure, 101325)
	return g
}

// or returns v, or the default if v is zero.
func or(v, standard float64) float64 {
	if v == 0 {
		return standard
	}
	return v
}

// JohnsonChampouxAllard is a porous material with a skeleton that stands still,
// by its five figures. A zero porosity is 0.98, a zero tortuosity 1; a zero
// viscous length is that of round fibres of the same resistivity,
// sqrt(8α∞η/(φσ)), and a zero thermal length twice the viscous one.
type JohnsonChampouxAllard struct {
	Resistivity   float64 // σ, Pa·s/m²
	Porosity      float64 // φ, 0..1
	Tortuosity    float64 // α∞, 1 or more
	ViscousLength float64 // Λ, m
	ThermalLength float64 // Λ', m
}

func (m JohnsonChampouxAllard) withDefaults(g Gas) JohnsonChampouxAllard {
	m.Porosity = or(m.Porosity, 0.98)
	m.Tortuosity = or(m.Tortuosity, 1)
	m.ViscousLength = or(m.ViscousLength, math.Sqrt(8*m.Tortuosity*g.Viscosity/(m.Porosity*m.Resistivity)))
	m.ThermalLength = or(m.ThermalLength, 2*m.ViscousLength)
	return m
}

// Fluid returns the material's fluid at frequency f in Hz:
//
//	ρ = (α∞ρ0/φ) [1 + σφ/(jωρ0α∞) sqrt(1 + 4jα∞²ηρ0ω/(σΛφ)²)]
//	K = (γP0/φ) / {γ - (γ-1)/[1 + 8η/(jωρ0 Pr Λ'²) sqrt(1 + jωρ0 Pr Λ'²/(16η))]}
//
// D. L. Johnson et al., J. Fluid Mech. 176 (1987) 379; Y. Champoux, J.-F.
// Allard, J. Appl. Phys. 70 (1991) 1975; both in J.-F. Allard, N. Atalla,
// Propagation of Sound in Porous Media (2009), sect. 5.5.
func (m JohnsonChampouxAllard) Fluid(f float64, air model.Air, gas Gas) Fluid {
	gas = gas.withDefaults()
	return m.withDefaults(gas).fluid(f, air.Density, gas)
}

// fluid is Fluid with every default filled in.
func (m JohnsonChampouxAllard) fluid(f, density float64, g Gas) Fluid {
	w := 2 * math.Pi * f
	flow := m.Resistivity * m.Porosity / (w * density * m.Tortuosity)
	bend := m.Tortuosity / (m.Resistivity * m.ViscousLength * m.Porosity)
	high := 4 * bend * bend * g.Viscosity * density * w
	rho := complex(m.Tortuosity*density/m.Porosity, 0) *
		(1 - complex(0, flow)*root(complex(1, high)))
	return fluidOf(w/(2*math.Pi), rho, m.modulus(w, density, g))
}

// modulus returns K: isothermal at low, adiabatic at high frequencies.
func (m JohnsonChampouxAllard) modulus(w, density float64, g Gas) complex128 {
	t := w * density * g.Prandtl * m.ThermalLength * m.ThermalLength / g.Viscosity
	heat := 1 - complex(0, 8/t)*root(complex(1, t/16))
	return over(complex(g.HeatRatio*g.Pressure/m.Porosity, 0),
		complex(g.HeatRatio, 0)-over(complex(g.HeatRatio-1, 0), heat))
}

// Limp returns the fluid of a porous material whose skeleton is limp: it has
// mass but no stiffness, and the air drags it along. fixed is the same material
// with the skeleton held; frame is the skeleton's bulk density ρ1 in kg/m³.
//
//	ρ' = (ρt ρ - ρ0²)/(ρt + ρ - 2ρ0),   ρt = ρ1 + φρ0
//
// R. Panneton, J. Acoust. Soc. Am. 122 (2007) EL217; Allard and Atalla (2009),
// eqs. 11.53-11.55.
func Limp(f float64, fixed Fluid, frame, porosity float64, air model.Air) Fluid {
	rho0 := complex(air.Density, 0)
	rho, total := fixed.Density(f), complex(frame+porosity*air.Density, 0)
	moving := over(total*rho-rho0*rho0, total+rho-2*rho0)
	return fluidOf(f, moving, fixed.Modulus(f))
}

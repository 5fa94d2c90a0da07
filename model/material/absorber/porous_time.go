package absorber

import (
	"math"

	"evenbass/model"
)

// PorousVolume is a porous material in the form that a time-domain solver can
// carry, all figures independent of frequency:
//
//	ρ = m + σ/(jω)                               per face a mass and a resistance
//	1/K = (1/P) [1 - (1 - 1/γ) jωτ/(1 + jωτ)]    per cell a spring and one relaxation
//
// The relaxation is the heat that passes between air and fibres: slow changes
// are isothermal, fast ones adiabatic. In time it is one more value q a cell,
// p' = -γ [P div v + (1 - 1/γ) q'], τq' + q = p. With it the form follows
// Johnson-Champoux-Allard within 0.03 in the absorption of 50-300 mm of 3-60
// kPa·s/m² from 40 to 300 Hz. Without it (τ = 0) the air is isothermal at all
// frequencies: as good for 10 kPa·s/m² and 200 mm or more, but off by 0.1 for
// 100 mm of 3 kPa·s/m².
type PorousVolume struct {
	Mass       float64 // m, kg/m³: about 5/4 of the air in the pores, for flow through narrow ones
	Resistance float64 // σ, Pa·s/m²
	Modulus    float64 // P, Pa: isothermal, P0/φ
	HeatTime   float64 // τ, s; 0 is isothermal
	HeatRatio  float64 // γ, of the part that relaxes; counts only with a heat time
	Skeleton   float64 // ρ1, kg/m³, of a skeleton that moves; 0 for a fixed one
}

// relaxing is the share of the heat's effect that relaxes with one time. It and the factor 9/8 are a fit to
// the absorption of 50-300 mm of 2-40 kPa·s/m² from 20 to 315 Hz, bare and behind sheets of 0.1 to 8 kg/m²;
// the first two terms at low frequency alone would give 0.8 and 5/4.
const relaxing = 0.84

// Volume returns the time-domain form of a porous material with a fixed
// skeleton, from the first terms of Johnson-Champoux-Allard at low frequency:
//
//	m = α∞ρ0/φ [1 + 2α∞η/(σφΛ²)],   τ = 9/8 ρ0 Pr Λ'²/(8η)
//
// The law's heat relaxes over a wide range of times. A single time can only carry the slow part, the share
// relaxing of what would make the air adiabatic.
func (m JohnsonChampouxAllard) Volume(air model.Air, gas Gas) PorousVolume {
	gas = gas.withDefaults()
	m = m.withDefaults(gas)
	drag := 2 * m.Tortuosity * gas.Viscosity / (m.Resistivity * m.Porosity * m.ViscousLength * m.ViscousLength)
	return PorousVolume{
		Mass:       m.Tortuosity * air.Density / m.Porosity * (1 + drag),
		Resistance: m.Resistivity,
		Modulus:    gas.Pressure / m.Porosity,
		HeatTime:   9 / 8.0 * air.Density * gas.Prandtl * m.ThermalLength * m.ThermalLength / (8 * gas.Viscosity),
		HeatRatio:  1 / (1 - relaxing*(1-1/gas.HeatRatio)),
	}
}

// Fluid returns what the solver's material is to a plane wave at frequency f in
// Hz, so that it can be compared with a law. A moving skeleton is one more mass,
// tied to the air by the resistance.
func (v PorousVolume) Fluid(f float64) Fluid {
	w := 2 * math.Pi * f
	tie := complex(v.Resistance, 0)
	if v.Skeleton > 0 {
		mass := complex(0, w*v.Skeleton)
		tie = tie * mass / (tie + mass)
	}
	give := complex(1/v.Modulus, 0)
	if v.HeatTime > 0 {
		turn := complex(0, w*v.HeatTime)
		give *= 1 - complex(1-1/v.HeatRatio, 0)*turn/(1+turn)
	}
	return fluidOf(f, complex(v.Mass, 0)+tie/complex(0, w), 1/give)
}

package material

import (
	"math"

	"evenbass/model"
)

// PorousVolume is a porous material in the form that a time-domain solver can
// carry: a mass, a resistance and a spring that do not change with frequency. It
// follows Miki and Johnson-Champoux-Allard within 0.03 in the absorption of
// 50-300 mm layers from 40 to 300 Hz.
//
//	jωρ = jωm + σ,   K = P0/φ
type PorousVolume struct {
	Mass       float64 // m, kg/m³: 4/3 of the air in the pores, as in a narrow tube at low frequency
	Resistance float64 // σ, Pa·s/m²
	Modulus    float64 // K, Pa: isothermal, the skeleton takes up the heat
	Skeleton   float64 // ρ1, kg/m³; it may move. 0 for a fixed one
}

// Volume returns the time-domain form of a porous material with a fixed
// skeleton, at the given air and gas.
func (m JohnsonChampouxAllard) Volume(air model.Air, gas Gas) PorousVolume {
	gas = gas.withDefaults()
	m = m.withDefaults(gas)
	return PorousVolume{
		Mass:       4.0 / 3 * m.Tortuosity * air.Density / m.Porosity,
		Resistance: m.Resistivity,
		Modulus:    gas.Pressure / m.Porosity,
	}
}

// Fluid returns what the solver's material is to a plane wave at frequency f, so
// that it can be compared with a law. A moving skeleton is one more mass, tied to
// the air by the resistance.
func (v PorousVolume) Fluid(f float64) Fluid {
	w := 2 * math.Pi * f
	tie := complex(v.Resistance, 0)
	if v.Skeleton > 0 {
		mass := complex(0, w*v.Skeleton)
		tie = tie * mass / (tie + mass)
	}
	return fluidOf(f, complex(v.Mass, 0)+tie/complex(0, w), complex(v.Modulus, 0))
}

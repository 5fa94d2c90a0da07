package absorber

import (
	"fmt"
	"math"

	"evenbass/model"
)

// perforated is a sheet with round holes or with slots. The air in the holes is a porous material with
// straight pores; the air just outside moves with it, as the medium on each side allows.
//
//	Z = (jω/ε) (ρ t + δ ρ1 + δ ρ2)
//
// with t the sheet's thickness, ε its open area, ρ the effective density in a
// hole, δ the end correction and ρ1, ρ2 the effective densities on the two
// sides. N. Atalla, F. Sgard, J. Sound Vib. 303 (2007) 195.
type perforated struct {
	hole      JohnsonChampouxAllard // of one hole: porosity 1
	thickness float64
	open      float64
	end       float64 // δ, m

	ahead, behind *porous // the neighbours where wool touches the sheet, or nil
	air           model.Air
	gas           Gas
}

func (p *perforated) at(f float64) section {
	mass := p.hole.fluid(f, p.air.Density, p.gas).Density(f) * complex(p.thickness, 0)
	mass += complex(p.end, 0) * (p.side(p.ahead, f) + p.side(p.behind, f))
	return section{series: complex(0, 2*math.Pi*f/p.open) * mass}
}

// side returns the effective density of the medium that touches the sheet.
func (p *perforated) side(touching *porous, f float64) complex128 {
	if touching == nil {
		// Friction on the sheet's own face, half of the hole's wall resistance
		// sqrt(2ωηρ) a side: U. Ingard, J. Acoust. Soc. Am. 25 (1953) 1037.
		w := 2 * math.Pi * f
		face := math.Sqrt(2*w*p.gas.Viscosity*p.air.Density) / 2
		return complex(p.air.Density, -face/(w*p.end))
	}
	return touching.fixed(f).Density(f) * complex(touching.figures.Porosity, 0)
}

func newHoles(l model.Layer, o *Options) (layer, []model.Warning, error) {
	width := l.HoleDiameter
	return newPerforated(l, o, pore(32*o.Gas.Viscosity/(width*width), width/2), HoleEnd(width/2, l.OpenArea))
}

func newSlots(l model.Layer, o *Options) (layer, []model.Warning, error) {
	width := l.HoleDiameter
	return newPerforated(l, o, pore(12*o.Gas.Viscosity/(width*width), width), SlotEnd(width, l.OpenArea))
}

func newPerforated(l model.Layer, o *Options, hole JohnsonChampouxAllard, end float64) (layer, []model.Warning, error) {
	switch {
	case !(l.HoleDiameter > 0) || l.HoleDiameter > 0.2:
		return nil, nil, fmt.Errorf("hole diameter or slot width must be above zero and below 200 mm, have %v m", l.HoleDiameter)
	case !(l.OpenArea > 0 && l.OpenArea <= 0.7):
		return nil, nil, fmt.Errorf("open area must be above 0 and at most 70 %%, have %.4g %%", l.OpenArea*100)
	}
	return &perforated{hole: hole, thickness: l.Thickness, open: l.OpenArea, end: end, air: o.Air, gas: o.Gas}, nil, nil
}

// pore is the air in one straight hole, by its flow resistivity and the length
// that is both the viscous and the thermal one. Allard and Atalla (2009), sect.
// 4.4 and 9.2.
func pore(sigma, length float64) JohnsonChampouxAllard {
	return JohnsonChampouxAllard{Resistivity: sigma, Porosity: 1, Tortuosity: 1, ViscousLength: length, ThermalLength: length}
}

// HoleEnd returns the end correction in m of one side of a round hole of the
// given radius in m in a sheet of open area ε:
//
//	δ = 0.85 a (1 - 1.47 ε^½ + 0.47 ε^1.5)
//
// Cox and D'Antonio, table 7.1. Neighbouring holes share the air outside: at ε = 1 nothing is left of the
// correction.
func HoleEnd(radius, open float64) float64 {
	return 0.85 * radius * (1 - 1.47*math.Sqrt(open) + 0.47*math.Pow(open, 1.5))
}

// SlotEnd returns the end correction in m of one side of a slot of the given
// width in m in a sheet of open area ε:
//
//	δ = -(w/π) ln sin(πε/2)
//
// J. M. A. Smits, C. W. Kosten, Acustica 1 (1951) 114.
func SlotEnd(width, open float64) float64 {
	return -width / math.Pi * math.Log(math.Sin(math.Pi*open/2))
}

// settle notes what is in contact with the sheet.
func (p *perforated) settle(s *Stack, i int) {
	p.ahead, _ = s.neighbour(i - 1).(*porous)
	p.behind, _ = s.neighbour(i + 1).(*porous)
}

// boardDensity is that of the fibreboard and plywood of which perforated sheets are
// made, kg/m³. Common practice, no source: 600 to 750.
const boardDensity = 700

func (p *perforated) weight(l model.Layer) (kg float64, assumed model.Warning) {
	density := l.Density
	if density == 0 {
		density, assumed = boardDensity, model.DensityAssumed{Density: boardDensity, Material: "board"}
	}
	return density * l.Thickness * (1 - l.OpenArea), assumed
}

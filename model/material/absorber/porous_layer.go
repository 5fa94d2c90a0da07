package absorber

import (
	"fmt"
	"math"

	"evenbass/model"
)

// porous is a layer of wool, foam or fleece.
type porous struct {
	figures   JohnsonChampouxAllard
	thickness float64
	law       Law
	frame     float64 // bulk density of a limp skeleton, kg/m³; 0 for a fixed one
	air       model.Air
	gas       Gas
}

// fluid returns the layer's medium at frequency f.
func (p *porous) fluid(f float64) Fluid {
	m := p.fixed(f)
	if p.frame > 0 {
		return Limp(f, m, p.frame, p.figures.Porosity, p.air)
	}
	return m
}

// fixed returns the medium with the skeleton held.
func (p *porous) fixed(f float64) Fluid {
	switch p.law {
	case MikiLaw:
		return Miki(f, p.figures.Resistivity, p.air)
	case DelanyBazleyLaw:
		if m, ok := DelanyBazley(f, p.figures.Resistivity, p.air); ok {
			return m
		}
		return Miki(f, p.figures.Resistivity, p.air)
	case AllardChampouxLaw:
		return AllardChampoux(f, p.figures.Resistivity)
	default:
		return p.figures.fluid(f, p.air.Density, p.gas)
	}
}

func (p *porous) at(f float64) section { return sectionOf(p.fluid(f), p.thickness) }

// Least and most flow resistivity that a porous layer may have, Pa·s/m². Below
// lies cloth-thin fleece, above plaster: a figure outside is in another unit.
const (
	leastResistivity = 500
	mostResistivity  = 500e3
)

// leastDensity is that of a porous layer that the wave solver can still march if it is limp, kg/m³: half that of the air
// in it, and less than that of any wool.
const leastDensity = 0.5

func newPorous(l model.Layer, o *Options) (layer, []model.Warning, error) {
	if err := checkResistivity(l.Resistivity); err != nil {
		return nil, nil, err
	}
	if err := checkFigures(l); err != nil {
		return nil, nil, err
	}
	figures := JohnsonChampouxAllard{
		Resistivity: l.Resistivity, Porosity: l.Porosity, Tortuosity: l.Tortuosity,
		ViscousLength: l.ViscousLength, ThermalLength: l.ThermalLength,
	}
	p := &porous{figures: figures.withDefaults(o.Gas), thickness: l.Thickness, law: o.Law, air: o.Air, gas: o.Gas}
	frame := l.Frame
	if frame == model.FrameUnknown {
		frame = o.Frame
	}
	if frame == model.FrameLimp {
		p.frame = or(l.Density, fibreDensity(l.Resistivity))
	}
	return p, p.warnings(), nil
}

func (p *porous) warnings() []model.Warning {
	var w []model.Warning
	if p.thickness > 1.5 {
		w = append(w, model.WoolThick{Thickness: p.thickness})
	}
	sigma := p.figures.Resistivity
	switch p.law {
	case MikiLaw:
		w = append(w, model.MikiBegins{Resistivity: sigma, From: 0.01 * sigma})
	case DelanyBazleyLaw:
		w = append(w, model.DelanyBazleyRange{Resistivity: sigma, From: 0.01 * sigma / p.air.Density, To: sigma / p.air.Density})
	}
	return w
}

func checkResistivity(sigma float64) error {
	switch {
	case !(sigma > 0) || math.IsInf(sigma, 0):
		return fmt.Errorf("flow resistivity must be above zero, have %v Pa·s/m²", sigma)
	case sigma < leastResistivity:
		return fmt.Errorf("flow resistivity %v Pa·s/m² is nearly none; %v kPa·s/m² would be %v Pa·s/m²: is the unit right?",
			sigma, sigma, sigma*1000)
	case sigma > mostResistivity:
		return fmt.Errorf("flow resistivity %.6g Pa·s/m² is that of plaster; wool is below %.6g: is the unit right?",
			sigma, float64(mostResistivity))
	}
	return nil
}

// checkFigures looks at the optional figures of a porous layer; zero is not
// given.
func checkFigures(l model.Layer) error {
	switch {
	case !(l.Porosity >= 0 && l.Porosity <= 1):
		return fmt.Errorf("porosity must be from 0 to 1, have %v", l.Porosity)
	case l.Tortuosity != 0 && !(l.Tortuosity >= 1):
		return fmt.Errorf("tortuosity must be 1 or more, have %v", l.Tortuosity)
	case !(l.ViscousLength >= 0 && l.ViscousLength < 0.01), !(l.ThermalLength >= 0 && l.ThermalLength < 0.01):
		return fmt.Errorf("viscous and thermal length must be 0 to 10 mm, have %v m and %v m", l.ViscousLength, l.ThermalLength)
	case l.Density != 0 && !(l.Density >= leastDensity && l.Density < 1000):
		return fmt.Errorf("density of a porous layer must be from %v to 1000 kg/m³, have %v", leastDensity, l.Density)
	}
	return nil
}

// fibreDensity guesses the bulk density in kg/m³ of mineral wool from its flow
// resistivity: 3.2e-9 ρ1^1.53/d² for fibres of d = 6 µm. Common practice for
// glass wool, no source; stone wool of the same resistivity is up to twice as
// heavy.
func fibreDensity(sigma float64) float64 {
	const fibre = 6e-6
	return math.Pow(sigma*fibre*fibre/3.2e-9, 1/1.53)
}

func (p *porous) weight(l model.Layer) (kg float64, assumed model.Warning) {
	density := l.Density
	if density == 0 {
		density = fibreDensity(l.Resistivity)
		assumed = model.DensityAssumed{Density: density, Material: "mineral wool"}
	}
	return density * l.Thickness, assumed
}

func (p *porous) draw(to *Piece) {
	to.Porous = p.figures.Volume(p.air, p.gas)
	to.Porous.Skeleton = p.frame
}

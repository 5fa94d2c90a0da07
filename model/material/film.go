package material

import (
	"fmt"
	"math"

	"evenbass/model"
)

// PolyethyleneDensity is that of the film sold for building and gardening, in
// kg/m³; makers state 920 to 937.
const PolyethyleneDensity = 920

// film is a limp sheet: it has mass and nothing else.
//
//	Z = jωm
//
// T. J. Cox, P. D'Antonio, Acoustic Absorbers and Diffusers, eq. 7.14.
type film struct {
	mass float64 // kg/m²
}

func (s *film) at(f float64) section { return section{series: complex(0, 2*math.Pi*f*s.mass)} }

func newFilm(l model.Layer) (layer, []model.Warning, error) {
	mass := or(l.SurfaceMass, l.Thickness*or(l.Density, PolyethyleneDensity))
	if !(mass > 0) || mass > 50 {
		return nil, nil, fmt.Errorf("surface mass of a film must be above zero and below 50 kg/m², have %.4g", mass)
	}
	var w []model.Warning
	if l.SurfaceMass == 0 && l.Thickness > 0.003 {
		w = append(w, model.Warning(fmt.Sprintf("%s is thick for a film that hangs limp: is it a panel, or the unit wrong?", thicknessText(l.Thickness))))
	}
	return &film{mass: mass}, w, nil
}

// FilmMass returns the surface mass in kg/m² of a polyethylene film of the given
// thickness in m.
func FilmMass(thickness float64) float64 { return PolyethyleneDensity * thickness }

// FilmReflectsFrom returns the frequency in Hz above which a limp sheet of the
// given surface mass in kg/m², free in the air, throws back more than half of
// the energy that meets it at normal incidence: the mass law's half-power point
//
//	f = ρc/(πm)
//
// L. L. Beranek, Noise and Vibration Control; any text has the mass law. What a
// film in a build-up does depends on the rest, see [Stack.ReflectsAbove].
func FilmReflectsFrom(mass float64, air model.Air) float64 {
	return air.Impedance() / (math.Pi * mass)
}

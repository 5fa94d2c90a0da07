package absorber

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

// lightestFilm is the least mass of a film, kg/m²: 2 µm of polyethylene, well below what is sold, and what the wave
// solver can march on a slope too.
const lightestFilm = 0.002

func newFilm(l model.Layer, _ *Options) (layer, []model.Warning, error) {
	mass := or(l.SurfaceMass, l.Thickness*or(l.Density, PolyethyleneDensity))
	if !(mass >= lightestFilm) || mass > 50 {
		return nil, nil, fmt.Errorf("surface mass of a film must be from 2 g/m² to 50 kg/m², have %.4g kg/m²", mass)
	}
	var w []model.Warning
	if l.SurfaceMass == 0 && l.Thickness > 0.003 {
		w = append(w, model.FilmThick{Thickness: l.Thickness})
	}
	return &film{mass: mass}, w, nil
}

func (s *film) weight(model.Layer) (float64, model.Warning) { return s.mass, nil }

func (s *film) draw(p *Piece) { p.SurfaceMass = s.mass }

// Package materialtest holds what the tests of several packages of materials share: shorthand for layers,
// twenty ordinary build-ups, and a comparison within a tolerance.
package materialtest

import (
	"math"
	"testing"

	"evenbass/model"
)

// Near reports an error unless a value is within a tolerance of what is wanted.
func Near(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.12g, want %.12g within %g", what, got, want, tolerance)
	}
}

// Wool is a porous layer by flow resistivity in Pa·s/m² and thickness in m.
func Wool(sigma, thickness float64) model.Layer {
	return model.Layer{Kind: model.PorousLayer, Resistivity: sigma, Thickness: thickness}
}

// LimpWool is wool that the air drags along, by its bulk density in kg/m³.
func LimpWool(sigma, thickness, density float64) model.Layer {
	l := Wool(sigma, thickness)
	l.Frame, l.Density = model.FrameLimp, density
	return l
}

// Air is a gap of a depth in m.
func Air(depth float64) model.Layer { return model.Layer{Kind: model.GapLayer, Thickness: depth} }

// Foil is a film of a mass in kg/m².
func Foil(mass float64) model.Layer { return model.Layer{Kind: model.FilmLayer, SurfaceMass: mass} }

// BuildUp is a build-up by name.
type BuildUp struct {
	Name   string
	Layers []model.Layer
}

// BuildUps are twenty ordinary build-ups.
func BuildUps() []BuildUp {
	plate := model.Layer{Kind: model.PerforatedLayer, Thickness: .012, HoleDiameter: .006, OpenArea: .05}
	slats := model.Layer{Kind: model.SlottedLayer, Thickness: .018, HoleDiameter: .005, OpenArea: .06}
	board := model.Layer{Kind: model.PanelLayer, SurfaceMass: 8.8}
	ply := model.Layer{Kind: model.PanelLayer, SurfaceMass: 2.4}
	return []BuildUp{
		{"50 mm 10 k", []model.Layer{Wool(10000, .05)}},
		{"100 mm 5 k", []model.Layer{Wool(5000, .1)}},
		{"100 mm 20 k", []model.Layer{Wool(20000, .1)}},
		{"200 mm 6 k", []model.Layer{Wool(6000, .2)}},
		{"300 mm 5 k", []model.Layer{Wool(5000, .3)}},
		{"600 mm 3 k", []model.Layer{Wool(3000, .6)}},
		{"300 mm 5 k limp", []model.Layer{LimpWool(5000, .3, 11)}},
		{"400 mm 5 k limp", []model.Layer{LimpWool(5000, .4, 11)}},
		{"100 mm 10 k, air 100 mm", []model.Layer{Wool(10000, .1), Air(.1)}},
		{"100 mm 5 k, air 300 mm", []model.Layer{Wool(5000, .1), Air(.3)}},
		{"film .1, 200 mm 6 k", []model.Layer{Foil(.1), Wool(6000, .2)}},
		{"film .2, 300 mm 5 k", []model.Layer{Foil(.2), Wool(5000, .3)}},
		{"film 1, 200 mm 5 k", []model.Layer{Foil(1), Wool(5000, .2)}},
		{"50 mm 10 k, film .2, 100 mm 5 k", []model.Layer{Wool(10000, .05), Foil(.2), Wool(5000, .1)}},
		{"two bags of film .2, 100 mm 5 k", []model.Layer{Foil(.2), Wool(5000, .1), Foil(.2), Wool(5000, .1)}},
		{"film .1, 200 mm 6 k limp, film .1, 50 mm", []model.Layer{Foil(.1), LimpWool(6000, .2, 14), Foil(.1), Wool(6000, .05)}},
		{"perforated 12 mm, 60 mm 10 k, air 40", []model.Layer{plate, Wool(10000, .06), Air(.04)}},
		{"slotted 18 mm, 80 mm 8 k", []model.Layer{slats, Wool(8000, .08)}},
		{"plasterboard, 75 mm 6 k", []model.Layer{board, Wool(6000, .075)}},
		{"plywood 4 mm, air 20, 50 mm 10 k", []model.Layer{ply, Air(.02), Wool(10000, .05)}},
	}
}

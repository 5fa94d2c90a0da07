package roomfile

import (
	"evenbass/model"
	"evenbass/model/material/absorber"
)

// A layer phrase is a name and then its figures: "wool 200 mm 6 kPa·s/m²". The two
// tables of this file say which names there are and which figures go with which.

// layerName is a word that may open a layer phrase.
type layerName struct {
	name     string
	kind     model.LayerKind
	material string // name in the material library; "" if the figures say it all
	bySheet  bool   // sold by its mass: needs no thickness

	own model.Layer // figures of an owner's own material
}

// layerNames are the plain kinds, then the materials of the library, then the owner's
// own.
func layerNames(own []model.Material) []layerName {
	names := []layerName{
		{name: "film", kind: model.FilmLayer},
		{name: "wool", kind: model.PorousLayer},
		{name: "air", kind: model.GapLayer},
		{name: "perforated", kind: model.PerforatedLayer},
		{name: "slotted", kind: model.SlottedLayer},
		{name: "panel", kind: model.PanelLayer},
	}
	for _, m := range absorber.Materials() {
		names = append(names, layerName{name: m.Name, kind: m.Kind, material: m.Name, bySheet: m.SurfaceMass.Typical > 0})
	}
	for _, m := range own {
		names = append(names, layerName{name: m.Name, kind: m.Layer.Kind, bySheet: m.Layer.SurfaceMass > 0, own: m.Layer})
	}
	return names
}

// frameWords say how the skeleton of a porous layer is held; the first word of each is
// the one to write.
var frameWords = []struct {
	word  string
	frame model.Frame
}{{"held", model.FrameFixed}, {"fixed", model.FrameFixed}, {"limp", model.FrameLimp}}

// frameWord returns the word for how a skeleton is held; "" if that is not known.
func frameWord(f model.Frame) string {
	for _, w := range frameWords {
		if w.frame == f {
			return w.word
		}
	}
	return ""
}

// figure is a number of a layer phrase or of an owner's material: the word before it,
// its dimension, where it goes, and which kinds of layers take it.
type figure struct {
	word      string // "" for a figure known by its unit alone
	name      string // may stand for the word; with underscores the key of a material
	dimension *dimension
	write     []string // units to write it in, in order of preference
	place     func(*model.Layer) *float64
	kinds     []model.LayerKind
}

func layerFigures() []figure {
	const (
		porous, film, gap   = model.PorousLayer, model.FilmLayer, model.GapLayer
		holes, slots, panel = model.PerforatedLayer, model.SlottedLayer, model.PanelLayer
	)
	type layer = model.Layer
	type kinds = []model.LayerKind
	mm, percent := []string{"mm", "µm"}, []string{"%"}
	return []figure{
		{"", "thickness", &lengths, mm, func(l *layer) *float64 { return &l.Thickness }, kinds{porous, film, gap, holes, slots, panel}},
		{"", "flow resistivity", &resistivities, []string{"kPa·s/m²"}, func(l *layer) *float64 { return &l.Resistivity }, kinds{porous}},
		{"", "density", &densities, nil, func(l *layer) *float64 { return &l.Density }, kinds{porous, film, holes, slots, panel}},
		{"", "mass per area", &surfaceMasses, nil, func(l *layer) *float64 { return &l.SurfaceMass }, kinds{film, panel}},
		{"holes", "hole diameter", &lengths, mm, func(l *layer) *float64 { return &l.HoleDiameter }, kinds{holes}},
		{"slots", "slot width", &lengths, mm, func(l *layer) *float64 { return &l.HoleDiameter }, kinds{slots}},
		{"open", "open area", &ratios, percent, func(l *layer) *float64 { return &l.OpenArea }, kinds{holes, slots}},
		{"porosity", "porosity", &ratios, percent, func(l *layer) *float64 { return &l.Porosity }, kinds{porous}},
		{"tortuosity", "tortuosity", &ratios, nil, func(l *layer) *float64 { return &l.Tortuosity }, kinds{porous}},
		{"viscous", "viscous length", &lengths, mm, func(l *layer) *float64 { return &l.ViscousLength }, kinds{porous}},
		{"thermal", "thermal length", &lengths, mm, func(l *layer) *float64 { return &l.ThermalLength }, kinds{porous}},
		{"damping", "damping", &dampings, nil, func(l *layer) *float64 { return &l.Damping }, kinds{panel}},
		{"stiffness", "stiffness", &stiffnesses, nil, func(l *layer) *float64 { return &l.Stiffness }, kinds{panel}},
	}
}

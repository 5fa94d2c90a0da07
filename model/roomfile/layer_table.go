package roomfile

import (
	"evenbass/model"
	"evenbass/model/material"
)

// A layer phrase is a name and then its figures: "wool 200 mm 6 kPa·s/m²". The two
// tables of this file say which names there are and which figures go with which.

// layerName is a word that may open a layer phrase.
type layerName struct {
	name     string
	kind     model.LayerKind
	material string // name in the material library; "" if the figures say it all
	bySheet  bool   // sold by its mass: needs no thickness
}

// layerNames are the plain kinds and then the materials of the library.
func layerNames() []layerName {
	names := []layerName{
		{name: "film", kind: model.FilmLayer},
		{name: "wool", kind: model.PorousLayer},
		{name: "air", kind: model.GapLayer},
		{name: "perforated", kind: model.PerforatedLayer},
		{name: "slotted", kind: model.SlottedLayer},
		{name: "panel", kind: model.PanelLayer},
	}
	for _, m := range material.Materials() {
		names = append(names, layerName{m.Name, m.Kind, m.Name, m.SurfaceMass.Typical > 0})
	}
	return names
}

// frameWords say how the skeleton of a porous layer is held, by model.Frame.
var frameWords = [...]string{model.FrameUnknown: "", model.FrameFixed: "fixed", model.FrameLimp: "limp"}

// figure is a number of a layer phrase: the word before it, its dimension, where
// it goes, and which kinds of layers take it.
type figure struct {
	word      string // "" for a figure known by its unit alone
	name      string
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

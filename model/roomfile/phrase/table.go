package phrase

import (
	"slices"

	"evenbass/model"
	"evenbass/model/material/absorber"
	"evenbass/model/roomfile/quantity"
)

// A layer phrase is a name and then its figures: "wool 200 mm 6 kPa·s/m²". The two
// tables of this file say which names there are and which figures go with which.

// layerName is a word that may open a layer phrase.
type layerName struct {
	name     string
	kind     model.LayerKind
	material string // name in the material library; "" if the figures say it all

	own model.Layer // figures of an owner's own material
}

// layerNames are the plain kinds, then the materials of the library, then the owner's
// own.
func layerNames(own []model.Material) []layerName {
	var names []layerName
	for _, k := range absorber.Kinds() {
		names = append(names, layerName{name: k.Word, kind: k.Kind})
	}
	for _, m := range absorber.Materials() {
		names = append(names, layerName{name: m.Name, kind: m.Kind, material: m.Name})
	}
	for _, m := range own {
		names = append(names, layerName{name: m.Name, kind: m.Layer.Kind, own: m.Layer})
	}
	return names
}

// Names are the words that may open a layer phrase.
func Names(own []model.Material) []string {
	var names []string
	for _, n := range layerNames(own) {
		names = append(names, n.name)
	}
	return names
}

// Frame returns how a skeleton is held by its word.
func Frame(word string) (frame model.Frame, ok bool) {
	for _, w := range frameWords {
		if w.word == word {
			return w.frame, true
		}
	}
	return 0, false
}

// frameWords say how the skeleton of a porous layer is held; the first word of each is
// the one to write.
var frameWords = []struct {
	word  string
	frame model.Frame
}{{"held", model.FrameFixed}, {"fixed", model.FrameFixed}, {"limp", model.FrameLimp}}

// FrameWord returns the word for how a skeleton is held; "" if that is not known.
func FrameWord(f model.Frame) string {
	for _, w := range frameWords {
		if w.frame == f {
			return w.word
		}
	}
	return ""
}

// Figure is how a file writes a quantity of a layer or of an owner's absorber.
type Figure struct {
	Quantity  absorber.Quantity
	Word      string // before the number; "" for a figure known by its unit alone
	Name      string // may stand for the word; with underscores the key of a material
	Sample    string
	Dimension *quantity.Dimension
	Write     []string // units to write it in, in order of preference
}

// Place returns where a layer holds the figure.
func (f Figure) Place(l *model.Layer) *float64 { return f.Quantity.Of(l) }

func Figures() []Figure {
	mm, percent := []string{"mm", "µm"}, []string{"%"}
	return []Figure{
		{absorber.Thickness, "", "thickness", "100 mm", &quantity.Lengths, mm},
		{absorber.FlowResistivity, "", "flow resistivity", "6 kPa·s/m²", &quantity.Resistivities, []string{"kPa·s/m²"}},
		{absorber.Density, "", "density", "650 kg/m³", &quantity.Densities, nil},
		{absorber.SurfaceMass, "", "mass per area", "8.8 kg/m²", &quantity.SurfaceMasses, nil},
		{absorber.HoleDiameter, "holes", "hole diameter", "5 mm", &quantity.Lengths, mm},
		{absorber.SlotWidth, "slots", "slot width", "4 mm", &quantity.Lengths, mm},
		{absorber.OpenArea, "open", "open area", "3 %", &quantity.Ratios, percent},
		{absorber.Porosity, "porosity", "porosity", "98 %", &quantity.Ratios, percent},
		{absorber.Tortuosity, "tortuosity", "tortuosity", "1.1", &quantity.Ratios, nil},
		{absorber.ViscousLength, "viscous", "viscous length", "130 µm", &quantity.Lengths, mm},
		{absorber.ThermalLength, "thermal", "thermal length", "260 µm", &quantity.Lengths, mm},
		{absorber.Damping, "damping", "damping", "150 Pa·s/m", &quantity.Dampings, nil},
		{absorber.Stiffness, "stiffness", "stiffness", "100 kPa/m", &quantity.Stiffnesses, nil},
	}
}

// FigureOf returns how a file writes a quantity.
func FigureOf(q absorber.Quantity) Figure {
	all := Figures()
	return all[slices.IndexFunc(all, func(f Figure) bool { return f.Quantity == q })]
}

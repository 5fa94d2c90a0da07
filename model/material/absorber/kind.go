package absorber

import (
	"slices"

	"evenbass/model"
)

// Kind is what the program knows of one kind of layers: how a room file calls it, what
// it may and must say, what it is drawn and built as, and its physics. A new absorber
// is a row of [Kinds] and a file that makes its layer.
type Kind struct {
	Kind  model.LayerKind
	Word  string // opens a layer in a room file: "wool 200 mm"
	Key   string // kind of an owner's material; "" if none can be of it
	Name  string // in a sentence
	Form  Form
	Takes []Quantity   // what a layer may give
	Needs [][]Quantity // what it must give, or its material must: one of each

	make func(model.Layer, *Options) (layer, []model.Warning, error)
}

// Kinds lists all kinds of layers. The slice is the caller's.
func Kinds() []Kind {
	sheet := func(width Quantity) []Quantity { return []Quantity{Thickness, Density, width, OpenArea} }
	return []Kind{
		{
			Kind: model.PorousLayer, Word: "wool", Key: "porous", Name: "wool", Form: Wool,
			Takes: []Quantity{Thickness, FlowResistivity, Density, Porosity, Tortuosity, ViscousLength, ThermalLength},
			Needs: [][]Quantity{{FlowResistivity}}, make: newPorous,
		},
		{
			Kind: model.FilmLayer, Word: "film", Key: "film", Name: "film", Form: Film,
			Takes: []Quantity{Thickness, Density, SurfaceMass}, make: newFilm,
		},
		{
			Kind: model.GapLayer, Word: "air", Name: "air", Form: Air,
			Takes: []Quantity{Thickness}, make: newGap,
		},
		{
			Kind: model.PerforatedLayer, Word: "perforated", Key: "perforated", Name: "perforated sheet", Form: Pierced,
			Takes: sheet(HoleDiameter), Needs: [][]Quantity{{HoleDiameter}, {OpenArea}}, make: newHoles,
		},
		{
			Kind: model.SlottedLayer, Word: "slotted", Key: "slotted", Name: "slotted sheet", Form: Pierced,
			Takes: sheet(SlotWidth), Needs: [][]Quantity{{SlotWidth}, {OpenArea}}, make: newSlots,
		},
		{
			Kind: model.PanelLayer, Word: "panel", Key: "panel", Name: "panel", Form: Board,
			Takes: []Quantity{Thickness, Density, SurfaceMass, Damping, Stiffness},
			Needs: [][]Quantity{{SurfaceMass, Density}}, make: newPanel,
		},
	}
}

// KindOf returns the row of a kind; an unknown one gives the zero row.
func KindOf(kind model.LayerKind) Kind {
	for _, k := range Kinds() {
		if k.Kind == kind {
			return k
		}
	}
	return Kind{}
}

// May reports whether a layer of the kind may give a quantity.
func (k Kind) May(q Quantity) bool { return slices.Contains(k.Takes, q) }

// Missing returns the needs that neither a layer nor its material of the library meets.
// A thickness is needed unless there is a surface mass.
func (k Kind) Missing(l model.Layer) [][]Quantity {
	l, _ = complete(l)
	given := func(q Quantity) bool { return *q.Of(&l) > 0 }
	needs := [][]Quantity{{Thickness}}
	if k.May(SurfaceMass) {
		needs = [][]Quantity{{Thickness, SurfaceMass}}
	}
	return slices.DeleteFunc(append(needs, k.Needs...), func(need []Quantity) bool {
		return slices.ContainsFunc(need, given)
	})
}

// Form is what a layer is drawn, built and weighed as.
type Form int

// The forms. The zero Form is that of no layer.
const (
	Air     Form = iota + 1
	Wool         // fills a volume
	Film         // a limp sheet
	Board        // a stiff sheet
	Pierced      // a stiff sheet with holes or slots
)

// FormOf returns the form of a layer.
func FormOf(l model.Layer) Form { return KindOf(l.Kind).Form }

// Fills reports whether a layer of this form is a fluid that fills a depth, and no
// sheet.
func (f Form) Fills() bool { return f == Air || f == Wool }

// Absorbs reports whether a layer of this form absorbs sound.
func (f Form) Absorbs() bool { return f == Wool || f == Board || f == Pierced }

// Quantity is a number that a layer may give.
type Quantity int

// The quantities, with the field of [model.Layer] that holds each.
const (
	Thickness Quantity = iota
	FlowResistivity
	Density
	SurfaceMass
	HoleDiameter
	SlotWidth // in the field HoleDiameter
	OpenArea
	Porosity
	Tortuosity
	ViscousLength
	ThermalLength
	Damping
	Stiffness
)

// Of returns where a layer holds the quantity. It panics for one that does not exist.
func (q Quantity) Of(l *model.Layer) *float64 {
	return [...]*float64{
		Thickness: &l.Thickness, FlowResistivity: &l.Resistivity, Density: &l.Density, SurfaceMass: &l.SurfaceMass,
		HoleDiameter: &l.HoleDiameter, SlotWidth: &l.HoleDiameter, OpenArea: &l.OpenArea,
		Porosity: &l.Porosity, Tortuosity: &l.Tortuosity, ViscousLength: &l.ViscousLength, ThermalLength: &l.ThermalLength,
		Damping: &l.Damping, Stiffness: &l.Stiffness,
	}[q]
}

package model

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// FurnitureKind is a kind of furniture.
type FurnitureKind int

// The kinds of furniture. The zero value is none.
const (
	Sofa FurnitureKind = iota + 1
	Bed
	Shelves
	Column
	Screen
	Cupboard
	Rug
	Curtain
	Diffuser
)

// FurnitureEffect is what a piece of furniture is to sound below 300 Hz.
type FurnitureEffect int

// The effects of furniture.
const (
	Inert   FurnitureEffect = iota // nothing
	Solid                          // a solid block
	Stuffed                        // a porous piece
)

// FurnitureRow is what the program knows of one kind of furniture.
type FurnitureRow struct {
	Kind   FurnitureKind
	Word   string // of the room file
	Effect FurnitureEffect

	// Filling is what a stuffed piece is computed as, unless the room file gives another. With a thickness it lies
	// on the floor of the piece's box; without, it fills the box, a column as a cylinder.
	Filling Layer

	Deepest float64 // thinnest side in m up to which an inert piece does nothing; 0 is any
	Does    string  // what it does below 300 Hz: the rest of a sentence
	Source  string  // of that
}

// FurnitureKinds lists all kinds of furniture. The slice is the caller's.
func FurnitureKinds() []FurnitureRow {
	const vorlaender = "Vorländer, Auralization (2008), appendix"
	return []FurnitureRow{
		{
			Kind: Sofa, Word: "sofa", Effect: Stuffed, Filling: filling("wool 150 mm 70 kPa·s/m²", 0.15, 70e3, 0),
			Does:   "absorbs like a cushion over its whole plan",
			Source: vorlaender + ": upholstered seats absorb 0.40 to 0.70 of the sound on their floor at 125 Hz, 0.50 to 0.76 at 250 Hz; below, by our model",
		},
		{
			Kind: Bed, Word: "bed", Effect: Stuffed, Filling: filling("wool 150 mm 70 kPa·s/m²", 0.15, 70e3, 0),
			Does: "absorbs like a cushion over its whole plan", Source: "taken to be like upholstered seats, no source of its own",
		},
		{
			Kind: Shelves, Word: "shelves", Effect: Stuffed, Filling: filling("wool 200 kPa·s/m² porosity 30 %", 0, 200e3, 0.3),
			Does:   "absorbs a little if books fill it, and sound goes round it",
			Source: "EN 12354-6:2003, from memory: a hard irregular object absorbs as many m² as its volume to the power of 2/3; taken for 125 and 250 Hz, below by our model",
		},
		{
			Kind: Column, Word: "column", Effect: Stuffed, Filling: filling("wool 10 kPa·s/m²", 0, 10e3, 0),
			Does: "absorbs like a round post of wool", Source: "computed; the flow resistivity is common practice, no source",
		},
		{
			Kind: Screen, Word: "screen", Effect: Stuffed, Filling: filling("wool 10 kPa·s/m²", 0, 10e3, 0),
			Does: "absorbs like wool that stands free", Source: "computed; the flow resistivity is common practice, no source",
		},
		{
			Kind: Cupboard, Word: "cupboard", Effect: Solid,
			Does: "is solid: sound goes round it", Source: "closed boards that hardly give; common practice, no source",
		},
		{
			Kind: Rug, Word: "rug",
			Does: "does nothing below 300 Hz", Source: vorlaender + ": thin carpet absorbs 0.02 at 125 Hz and 0.04 at 250 Hz",
		},
		{
			Kind: Curtain, Word: "curtain", Deepest: 0.10,
			Does: "does nothing below 300 Hz", Source: vorlaender + ": curtains 9 cm from a wall absorb 0.05 to 0.06 at 125 Hz, 0.06 to 0.10 at 250 Hz",
		},
		{
			Kind: Diffuser, Word: "diffuser", Deepest: 0.28,
			Does: "does nothing below 300 Hz", Source: "shallower than a quarter wave, it reflects as the wall behind it; common practice, no source",
		},
	}
}

// filling returns a porous layer as its phrase in a room file reads.
func filling(text string, thickness, resistivity, porosity float64) Layer {
	return Layer{Kind: PorousLayer, Text: text, Thickness: thickness, Resistivity: resistivity, Porosity: porosity}
}

// Row returns what is known of a kind; of none, the zero row.
func (k FurnitureKind) Row() FurnitureRow {
	for _, r := range FurnitureKinds() {
		if r.Kind == k {
			return r
		}
	}
	return FurnitureRow{}
}

// String returns the word of the room file.
func (k FurnitureKind) String() string {
	return cmp.Or(k.Row().Word, fmt.Sprintf("FurnitureKind(%d)", int(k)))
}

// Furniture says which of the owner's furniture a solid block, a treatment or a box of air is. The zero value is none.
type Furniture struct {
	Kind FurnitureKind
	Item int // counts the room file's list from 1
}

// Furnishing is one piece of furniture: a block that says which, and what fills it if it is stuffed.
type Furnishing struct {
	Block
	Filling Layer
}

// Furnish puts a piece into the project as what it is to sound: a solid block, a treatment that stands already, or a
// box of air in which nothing else may stand. A rug lies flat on the floor, so that it is in nobody's way.
func (p *Project) Furnish(f Furnishing) {
	f.Name = cmp.Or(f.Name, f.Furniture.Kind.String())
	switch row := f.Furniture.Kind.Row(); row.Effect {
	case Solid:
		p.Room.Blocks = append(p.Room.Blocks, f.Block)
	case Stuffed:
		fill := f.Filling
		if fill.Kind == 0 {
			fill = row.Filling
		}
		if fill.Thickness == 0 {
			if fill.Thickness = row.Filling.Thickness; fill.Thickness == 0 {
				fill.Thickness = f.thinnest()
			}
		}
		t := Treatment{Name: f.Name, Form: FreeStanding, Box: f.Block, Layers: []Layer{fill}, Built: 1}
		t.Box.Name = ""
		p.Room.Treatments = append(p.Room.Treatments, t)
	default:
		p.KeepClear = append(p.KeepClear, f.Block)
	}
}

// Furnishings returns the furniture of a project in the order of the room file.
func (p *Project) Furnishings() []Furnishing {
	var list []Furnishing
	for _, blocks := range [][]Block{p.Room.Blocks, p.KeepClear} {
		for _, b := range blocks {
			if b.Furniture.Kind != 0 {
				list = append(list, Furnishing{Block: b})
			}
		}
	}
	for _, t := range p.Room.Treatments {
		if t.Furnished() {
			f := Furnishing{Block: t.Box, Filling: t.Layers[0]}
			f.Name = t.Name
			list = append(list, f)
		}
	}
	slices.SortStableFunc(list, func(a, b Furnishing) int { return cmp.Compare(a.Furniture.Item, b.Furniture.Item) })
	return list
}

// Usual reports whether a stuffed piece is filled with what is usual for its kind.
func (f Furnishing) Usual() bool {
	usual := f.Furniture.Kind.Row().Filling
	usual.Thickness = cmp.Or(usual.Thickness, f.thinnest())
	off := math.Abs(f.Filling.Thickness - usual.Thickness)
	f.Filling.Thickness = usual.Thickness
	return f.Filling == usual && off < slack
}

// Furnished reports whether a treatment is a piece of furniture: it was there before any was planned, and it is
// neither bought nor built.
func (t *Treatment) Furnished() bool { return t.Box.Furniture.Kind != 0 }

// Furniture returns the room's treatments that are furniture.
func (r *Room) Furniture() []Treatment {
	var list []Treatment
	for _, t := range r.Treatments {
		if t.Furnished() {
			list = append(list, t)
		}
	}
	return list
}

// Filled returns the part of a free-standing piece's box that its layers take: of a sofa, its cushion on the floor.
func (t *Treatment) Filled() Block {
	b := t.Box
	if b.Furniture.Kind.Row().Filling.Thickness > 0 {
		b.Max.Z = b.Min.Z + t.Depth()
	}
	return b
}

// Flat reports whether a block is a rug, on which anything may stand.
func (b Block) Flat() bool { return b.Kind == Rug }

// thinnest returns the thinnest side of a block, m.
func (b Block) thinnest() float64 {
	d := r3.Sub(b.Max, b.Min)
	return min(d.X, d.Y, d.Z)
}

package model

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// Stock is the material that treatments are built from, and the terms on which they
// may be: where they may go, what must stay free, what passes the door.
//
// A price is a number in the owner's currency. One that is not given is the zero
// range, and is said to be missing wherever it would count.
type Stock struct {
	Currency string // as prices are to be written: "EUR"; may be empty
	Dated    string // when the prices were asked for, in the owner's words; may be empty

	Batts  []Batt
	Films  []Roll
	Cloths []Roll
	Bags   []Roll // ready made of film, lying flat: open at one end, across the width
	Timber []Timber

	Cover   []Cover // what of walls and ceiling may be covered; none means all of it
	Free    []Keep  // what must stay free beside doors and windows
	Rental  bool    // no holes in walls and ceiling
	Passage Passage // what every finished piece must pass on its way into the room
}

// Batt is a sort of slabs of wool.
type Batt struct {
	Name string // may be empty; see Title

	// Layer is the wool: a material of the library or the owner's, or flow
	// resistivity and density. Its thickness is that of the batt.
	Layer Layer

	Length, Width float64 // m
	Have          int     // batts in hand
	PerPack       int     // batts to a pack; 0 is 1
	Price         Range   // of a pack
}

// Roll is a sort of sheets by the roll, or of ready-made bags.
type Roll struct {
	Name string

	// Layer is the film, of a bag that of one side; of cloth it is the zero layer.
	Layer Layer

	Mass          float64 // of cloth, kg/m²; 0 is not given
	Width, Length float64 // m
	Have          int     // rolls or bags in hand
	Price         Range   // of a roll, or of a bag
}

// Timber is a sort of battens for frames.
type Timber struct {
	Name                     string
	Length, Width, Thickness float64 // m
	Have                     int     // battens in hand
	Price                    Range   // of a batten
}

// Cover is a part of a wall that treatments may cover.
type Cover struct {
	Patch   Patch
	Deepest float64 // that a treatment may stand out from the wall there, m; 0 is no limit
}

// Keep is something that must stay free: a rectangle of a wall, or a box of air.
type Keep struct {
	Name   string
	OnWall bool
	Patch  Patch // OnWall
	Block  Block // otherwise
}

// Passage is the narrowest way that a finished piece must pass: a door, a stair. Zero
// is no limit.
type Passage struct {
	Width, Height float64 // m
	Longest       float64 // piece that gets round the bends, m
}

// Given reports whether the passage limits anything.
func (p Passage) Given() bool { return p != Passage{} }

// Admits reports whether a piece of that size passes, turned as it needs to be.
func (p Passage) Admits(size r3.Vec) bool {
	side := []float64{size.X, size.Y, size.Z}
	slices.Sort(side)
	way := []float64{limit(p.Width), limit(p.Height)}
	slices.Sort(way)
	return side[0] <= way[0]+slack && side[1] <= way[1]+slack && side[2] <= limit(p.Longest)+slack
}

// limit is a length of which zero means without end.
func limit(m float64) float64 {
	if m == 0 {
		return math.Inf(1)
	}
	return m
}

// Pack is the number of batts in a pack.
func (b Batt) Pack() int { return max(b.PerPack, 1) }

// Area is the face of one batt in m².
func (b Batt) Area() float64 { return b.Length * b.Width }

// Volume is that of one batt in m³.
func (b Batt) Volume() float64 { return b.Area() * b.Layer.Thickness }

// Title is what a roll is called: its name, or else its material.
func (r Roll) Title() string {
	if r.Name != "" || r.Layer.Text == "" {
		return r.Name
	}
	return r.Layer.Text
}

// Area is that of one roll in m².
func (r Roll) Area() float64 { return r.Length * r.Width }

// standOut returns how far a treatment reaches from the wall or ceiling behind it, m.
func (t *Treatment) standOut() float64 {
	switch t.Form {
	case InCorner:
		return t.Corner.Leg
	case UnderCeiling:
		return t.Gap + t.Depth()
	}
	return t.Depth()
}

// Footprints returns the parts of walls and ceiling that a treatment lies on: the
// patch of a layer, two of a corner, that above a cloud, none of a free panel.
func (r *Room) Footprints(t *Treatment) []Patch {
	space := r.Space(t)
	switch t.Form {
	case OnWall:
		return []Patch{r.FacePatch(t)}
	case InCorner:
		return []Patch{r.below(space.Shadow(t.Corner.Walls[0])), r.below(space.Shadow(t.Corner.Walls[1]))}
	case UnderCeiling:
		return []Patch{space.Shadow(Ceiling)}
	}
	return nil
}

// below cuts an upright patch to as high as its wall is where that is highest.
func (r *Room) below(p Patch) Patch {
	if len(r.Slopes) == 0 || p.Face.Axis() == 2 {
		return p
	}
	p.Height = min(p.Height, r.topOver(p)-p.Up)
	return p
}

// Shadow returns the rectangle that a block throws on a face, straight on.
func (b Block) Shadow(f Face) Patch {
	switch f.Axis() {
	case 0:
		return Patch{Face: f, Along: b.Min.Y, Up: b.Min.Z, Width: b.Max.Y - b.Min.Y, Height: b.Max.Z - b.Min.Z}
	case 1:
		return Patch{Face: f, Along: b.Min.X, Up: b.Min.Z, Width: b.Max.X - b.Min.X, Height: b.Max.Z - b.Min.Z}
	}
	return Patch{Face: f, Along: b.Min.X, Up: b.Min.Y, Width: b.Max.X - b.Min.X, Height: b.Max.Y - b.Min.Y}
}

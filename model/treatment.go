package model

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Treatment is a piece of absorbing material. Which of the places counts depends on
// the form.
type Treatment struct {
	Name   string
	Form   Form
	Patch  Patch   // OnWall
	Corner Corner  // InCorner
	Gap    float64 // UnderCeiling: air above the piece, m

	// Box is a free-standing piece, or the rectangle on plan of one under the
	// ceiling, whose heights do not count.
	Box Block

	// Layers run from the room to the wall; under the ceiling, from below; in a
	// free-standing piece, along its thinnest side away from the origin. The last
	// layer in a corner fills it, whatever its thickness.
	Layers []Layer

	// Built is how many of the layers stand already, counted from the last: they need not be
	// bought or made.
	Built int
}

// Form is where and how a treatment is put up.
type Form int

// The forms of treatments.
const (
	OnWall       Form = iota // layers on a rectangle of a wall
	InCorner                 // fill of the edge between two walls
	UnderCeiling             // layers that hang level, with air above
	FreeStanding             // a box of layers in the room
)

// String returns the word of the room file.
func (f Form) String() string {
	if f < OnWall || f > FreeStanding {
		return fmt.Sprintf("Form(%d)", int(f))
	}
	return [...]string{"layer", "corner", "cloud", "panel"}[f]
}

// Depth returns the total thickness of the layers in m; of a corner, how far it
// reaches from the edge into the room.
func (t Treatment) Depth() float64 {
	if t.Form == InCorner {
		if t.Corner.Square {
			return t.Corner.Leg * math.Sqrt2
		}
		return t.Corner.Leg / math.Sqrt2
	}
	var d float64
	for _, l := range t.Layers {
		d += l.Thickness
	}
	return d
}

// Where says in words where a treatment is: "on the back wall".
func (t Treatment) Where() string {
	switch t.Form {
	case InCorner:
		return fmt.Sprintf("where %s and %s meet", t.Corner.Walls[0].Wall(), t.Corner.Walls[1].Wall())
	case UnderCeiling:
		return "under the ceiling"
	case FreeStanding:
		return "free in the room"
	}
	return "on the " + t.Patch.Face.Wall()
}

// title is what a message calls a treatment: its name in quotation marks, or where it is.
func (t *Treatment) title() string {
	if t.Name == "" {
		return "the treatment " + t.Where()
	}
	return Quote(t.Name)
}

// Thin returns the axis of the thinnest side of a block: 0 for x, 1 for y, 2 for z; of equal sides the first. Sides are
// equal within rounding, so that a block written to a file and read back keeps its axis.
func (b Block) Thin() int {
	d := r3.Sub(b.Max, b.Min)
	switch {
	case d.X <= d.Y+slack && d.X <= d.Z+slack:
		return 0
	case d.Y <= d.Z+slack:
		return 1
	}
	return 2
}

// Space returns the box that a treatment stands in, of a triangle the square around
// it, of layers that a slope trims the box about them. Under a sloped ceiling a cloud hangs from the
// lowest point above it, what is on the ceiling follows the slope, and a fill ends at it.
func (r *Room) Space(t *Treatment) Block {
	b := Block{Name: t.Name}
	switch t.Form {
	case InCorner:
		b = r.cornerSpace(t.Corner)
		b.Name = t.Name
	case UnderCeiling:
		b.Min, b.Max = t.Box.Min, t.Box.Max
		b.Max.Z = r.CeilingOver(b) - t.Gap
		b.Min.Z = b.Max.Z - t.Depth()
	case FreeStanding:
		b.Min, b.Max = t.Box.Min, t.Box.Max
	default:
		b = r.inFront(r.FacePatch(t), t.Depth())
		b.Name = t.Name
		if t.Patch.Face == Ceiling {
			b.Min.Z = math.Inf(1)
			for _, v := range b.corners() { // layers of planes are lowest at a corner
				b.Min.Z = min(b.Min.Z, r.CeilingAt(v)-t.Depth()*r.CeilingStretch(v))
			}
		}
	}
	return b
}

// CeilingOver returns the least height of the ceiling above a block, m.
func (r *Room) CeilingOver(b Block) float64 {
	top := math.Inf(1)
	for _, v := range b.corners() { // a ceiling of planes is lowest at a corner
		top = min(top, r.CeilingAt(v))
	}
	return top
}

// setSide sets the ends of a block on one axis.
func setSide(b *Block, axis int, to Range) {
	*[3]*float64{&b.Min.X, &b.Min.Y, &b.Min.Z}[axis] = to.Min
	*[3]*float64{&b.Max.X, &b.Max.Y, &b.Max.Z}[axis] = to.Max
}

// corners returns the four corners of a block on plan.
func (b Block) corners() [4]r2.Vec {
	return [4]r2.Vec{
		{X: b.Min.X, Y: b.Min.Y}, {X: b.Max.X, Y: b.Min.Y}, {X: b.Max.X, Y: b.Max.Y}, {X: b.Min.X, Y: b.Max.Y},
	}
}

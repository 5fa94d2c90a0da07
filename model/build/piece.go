package build

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
)

// Piece is one thing that is built, carried and put up.
type Piece struct {
	Treatment int // index into the room's treatments
	Number    int // 1, 2, ... within the treatment
	Kind      Kind

	// Space is where it stands in the room, with the air behind it; of a triangle the
	// square around it.
	Space model.Block

	// Width and Height are those of its face: along the wall and up; under the ceiling
	// along x and along y; of a corner the face that looks into the room, and along the
	// edge. Depth is that of what is built, air behind it left out. All in m.
	Width, Height, Depth float64

	// Outline is that of the face where a slope trims it, m from its lower corner nearer the room's origin, of
	// which Width and Height are the rectangle about it. Nil is a rectangle.
	Outline model.Polygon

	Level    bool          // of a corner: its edge runs along floor or ceiling
	Slabs    int           // parts of wool in it
	Pressed  bool          // its wool is a little larger than the face, and pressed in
	Weight   material.Span // kg, with frame, film and cloth as far as they are known
	Persons  int           // to lift it
	Passes   bool          // through the passage of the stock, in one or as its slabs
	Fixings  []Fixing
	Wrapping *Wrapping // of a bag
}

// Kind is what a piece is built as.
type Kind int

// The kinds of pieces.
const (
	WallPiece    Kind = iota // a frame on a wall
	CornerFill               // a stack in an edge of the room
	CloudPiece               // a frame under the ceiling, with air above
	FreePanel                // a frame on feet
	Bag                      // slabs wrapped in film
	CeilingPiece             // a frame on the ceiling
)

// String returns what a piece of the kind is called.
func (k Kind) String() string {
	return [...]string{"wall panel", "corner fill", "cloud", "standing panel", "bag", "ceiling panel"}[k]
}

// Lower is the height of the lower edge above the floor, m.
func (p *Piece) Lower() float64 { return p.Space.Min.Z }

// Size is that of what is carried, m.
func (p *Piece) Size() r3.Vec { return r3.Vec{X: p.Width, Y: p.Height, Z: p.Depth} }

// Fixing is a number of things that hold a piece. Which fixing holds a piece is common practice, no source;
// it depends on the wall.
type Fixing struct {
	Count int
	Text  string // one of them: "hook with a plug or screw that suits the wall"
}

// Limits of what one person lifts. Common practice, no source: two from 15 kg or 2 m on,
// and always over heads.
const (
	liftAlone   = 15.0 // kg
	reachAlone  = 2.0  // m
	tippingFrom = 1.2  // m; from there on a standing piece needs a base
	tippingBase = 3    // of a height for each part of depth
)

// persons returns how many a piece takes.
func persons(kind Kind, longest, heaviest float64) int {
	if kind == CloudPiece || kind == CeilingPiece || longest > reachAlone+slack || heaviest > liftAlone {
		return 2
	}
	return 1
}

// fixings returns what holds a piece. gap is the air behind it, m.
func fixings(p *Piece, gap float64, rental bool) []Fixing {
	switch p.Kind {
	case WallPiece:
		return wallFixings(p, gap, rental)
	case CornerFill:
		if p.Level {
			if rental {
				return nil
			}
			return []Fixing{{2 * max(2, int(math.Ceil(p.Height/0.6))), "bracket with a screw into stud, joist or masonry"}}
		}
		if rental {
			return []Fixing{{1, "pole braced between floor and ceiling, to hold the face"}}
		}
		return []Fixing{{2 * max(1, int(math.Ceil(p.Height/1.2))), "angle with a screw into the wall, to hold the face"}}
	case CloudPiece:
		if rental {
			return nil
		}
		return []Fixing{{4, "closed hook screwed into a joist or concrete"}, {4, "wire hanger rated for five times the load"}, {1, "safety wire to a hook of its own"}}
	case CeilingPiece:
		if rental {
			return nil
		}
		n := 4
		if p.Weight.High > 10 {
			n = 6
		}
		return []Fixing{{n, "screw into joist, rafter or concrete"}, {1, "safety wire to a hook of its own"}}
	case FreePanel:
		if p.Height > tippingFrom && p.Depth < p.Height/tippingBase {
			return []Fixing{{2, "foot, together as deep as a third of the height"}}
		}
	}
	return nil
}

func wallFixings(p *Piece, gap float64, rental bool) []Fixing {
	var f []Fixing
	n := 2
	if p.Weight.High > 10 {
		n = 4
	}
	switch {
	case rental && p.Lower() > slack:
		f = []Fixing{{2, "pole braced between floor and ceiling, to hang the piece from"}}
	case rental:
		f = []Fixing{{1, "strap to its neighbour or to a braced pole, against tipping"}}
	case p.Outline != nil: // below a slope it cannot be lifted onto a hook
		f = []Fixing{{n, "angle screwed to wall and upright"}}
	default:
		f = []Fixing{{n, "hook with a plug or screw that suits the wall"}}
	}
	if gap > slack {
		f = append(f, Fixing{4, "spacer as deep as the air behind the piece"})
	}
	return f
}

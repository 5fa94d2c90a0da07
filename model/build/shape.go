package build

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"evenbass/model"
)

// slack forgives the rounding of sums of lengths, m.
const slack = 1e-6

// Shape is a flat part to be cut: a rectangle, a right triangle with two equal legs, or a convex outline.
type Shape struct {
	Width, Height float64 // m; of a triangle both are its leg, of an outline they surround it
	Triangle      bool
	Outline       model.Polygon // counter-clockwise, m from the lower left; nil for rectangles and triangles
	Piece         int           // what it is for: an index that the caller knows, or -1
}

// slanting reports whether the shape has other sides than a rectangle.
func (s Shape) slanting() bool { return s.Triangle || s.Outline != nil }

// Area is that of the shape in m².
func (s Shape) Area() float64 {
	switch {
	case s.Triangle:
		return s.Width * s.Height / 2
	case s.Outline != nil:
		return s.Outline.Area()
	}
	return s.Width * s.Height
}

// Fits reports whether the shape can be cut from a sheet of that size: a triangle with
// its legs along the sheet's sides.
func (s Shape) Fits(width, height float64) bool {
	a, b := min(s.Width, s.Height), max(s.Width, s.Height)
	w, h := min(width, height), max(width, height)
	return a <= w+slack && b <= h+slack
}

// Place is a shape where it lies on a sheet.
type Place struct {
	Shape   int      // index into the shapes that were nested
	Corners []r2.Vec // in order, m from a corner of the sheet
}

// Area is that of the polygon in m².
func (p Place) Area() float64 {
	var sum float64
	for i, a := range p.Corners {
		b := p.Corners[(i+1)%len(p.Corners)]
		sum += a.X*b.Y - b.X*a.Y
	}
	return math.Abs(sum) / 2
}

// Rect is an upright rectangle on a sheet, m.
type Rect struct{ X, Y, Width, Height float64 }

// Area is that of the rectangle in m².
func (r Rect) Area() float64 { return r.Width * r.Height }

// Sheet is one batt with all that is cut out of it.
type Sheet struct {
	Places  []Place
	Cuts    [][2]r2.Vec // straight cuts in their order, each right across what is left there
	Offcuts []Rect      // what is left over and large enough to keep
	Wedges  [][]r2.Vec  // the same, where a slanting cut leaves it: three corners each
}

// Used is the area of the sheet that becomes parts, m².
func (s Sheet) Used() float64 {
	var sum float64
	for _, p := range s.Places {
		sum += p.Area()
	}
	return sum
}

// least is the smallest side of an offcut worth keeping, m. Common practice, no source.
const least = 0.15

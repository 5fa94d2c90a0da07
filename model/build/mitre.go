package build

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"evenbass/model"
)

// mitred returns the parts of a frame round an outline that is no rectangle, of battens of a thickness in m.
// Upright parts run through, as in a rectangle, and end along what meets them; other parts end upright
// there. Two parts of which neither is upright, or which meet at more than [widest], meet in a mitre. Lengths are those between the long points of
// the cuts.
func mitred(outline model.Polygon, thickness float64) []Member {
	var list []Member
	n := len(outline)
	for i := range n {
		from, to := outline.Edge(i)
		m := Member{Name: barName(from, to), Length: r2.Norm(r2.Sub(to, from))}
		before, after := outline[(i+n-1)%n], outline[(i+2)%n]
		for end, corner := range [2][3]r2.Vec{{before, from, to}, {from, to, after}} {
			neighbour := [2]string{barName(before, from), barName(to, after)}[end]
			cut, longer := joint(m.Name, neighbour, inside(corner), thickness)
			m.Ends[end], m.Length = cut, m.Length+longer
		}
		m.Length = max(0.02, m.Length)
		list = append(list, m)
	}
	return list
}

// barName returns what a part of a frame along an edge of its outline is called.
func barName(from, to r2.Vec) string {
	switch d := r2.Sub(to, from); {
	case math.Abs(d.X) < slack:
		return upright
	case math.Abs(d.Y) < slack:
		return "rail"
	}
	return "sloped rail"
}

const upright = "upright"

// inside returns the angle within a convex outline at the second of three corners, rad.
func inside(c [3]r2.Vec) float64 {
	u, v := r2.Unit(r2.Sub(c[0], c[1])), r2.Unit(r2.Sub(c[2], c[1]))
	return math.Acos(max(-1, min(1, r2.Dot(u, v))))
}

// widest is the angle up to which an upright part runs through, rad: beyond 135° its cut would be slimmer than a
// mitre. Common practice, no source.
const widest = math.Pi * 3 / 4

// joint returns how a part ends at a corner with an angle inside of the outline: by how much its cut is off
// square, rad, and by how much its long point is beyond the corner, m.
func joint(own, neighbour string, angle, thickness float64) (cut, longer float64) {
	off := angle - math.Pi/2 // of the neighbour from square
	switch {
	case angle > widest+slack: // a mitre
	case own == upright:
		return math.Abs(off), thickness * max(0, math.Tan(off))
	case neighbour == upright: // it begins at the upright's inner face
		return math.Abs(off), thickness * (max(0, math.Tan(off)) - 1/math.Cos(off))
	}
	return (math.Pi - angle) / 2, 0
}

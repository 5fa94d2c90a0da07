package table

import (
	"math"
	"slices"

	"evenbass/optimize/geometry"
	"gonum.org/v1/gonum/spatial/r3"
)

// near is how close to the ears, m along every axis, a woofer is not tabulated. Closer in, an
// engine that sums modes loses the direct sound (see the limits of package mode). One node
// there would spoil its whole panel, and no finer table would mend that. No legal layout has
// woofers so near, even with the ears displaced.
const near = 0.2

// aroundEars returns the domain without the woofers' places that are near its one seat: each
// area of sources is cut into up to four around them. A domain of several seats stays as it is.
func (d Domain) aroundEars() Domain {
	if len(d.Line) > 0 || d.Seats.X.Length() > 0 || d.Seats.Y.Length() > 0 {
		return d
	}
	if !slices.ContainsFunc(d.Heights, func(z float64) bool { return math.Abs(z-d.Ears) < near }) {
		return d
	}
	hole := geometry.Area{X: d.Seats.X.Grow(near), Y: d.Seats.Y.Grow(near)}
	var areas []geometry.Area
	for _, a := range d.Sources {
		areas = append(areas, around(a, hole)...)
	}
	if len(areas) > 0 {
		d.Sources = areas
	}
	return d
}

// around returns what is left of an area outside a hole, as up to four areas.
func around(a, hole geometry.Area) []geometry.Area {
	in := a.And(hole)
	if in.Empty() {
		return []geometry.Area{a}
	}
	var list []geometry.Area
	for _, rest := range []geometry.Area{
		{X: geometry.Span{Lo: a.X.Lo, Hi: in.X.Lo}, Y: a.Y},
		{X: geometry.Span{Lo: in.X.Hi, Hi: a.X.Hi}, Y: a.Y},
		{X: in.X, Y: geometry.Span{Lo: a.Y.Lo, Hi: in.Y.Lo}},
		{X: in.X, Y: geometry.Span{Lo: in.Y.Hi, Hi: a.Y.Hi}},
	} {
		if rest.X.Length() > 0 && rest.Y.Length() > 0 {
			list = append(list, rest)
		}
	}
	return list
}

// isNear reports whether a woofer is too near to the ears for the table.
func isNear(a, b r3.Vec) bool {
	return max(math.Abs(a.X-b.X), math.Abs(a.Y-b.Y), math.Abs(a.Z-b.Z)) < near-1e-9
}

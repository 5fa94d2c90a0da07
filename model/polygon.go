package model

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// Polygon is a closed line on the floor plan, corner after corner in either sense;
// the last joins the first. Units are m.
type Polygon []r2.Vec

// Area returns the area inside in m².
func (p Polygon) Area() float64 {
	area, _ := p.Moment()
	return math.Abs(area)
}

// Moment returns the area in m², positive if the corners run counter-clockwise when x is
// to the right and y is up, and the centre of gravity.
func (p Polygon) Moment() (area float64, middle r2.Vec) {
	for i := 1; i+1 < len(p); i++ {
		u, v := r2.Sub(p[i], p[0]), r2.Sub(p[i+1], p[0])
		part := r2.Cross(u, v) / 2
		area += part
		middle = r2.Add(middle, r2.Scale(part/3, r2.Add(u, v)))
	}
	if area == 0 {
		return 0, r2.Vec{}
	}
	return area, r2.Add(p[0], r2.Scale(1/area, middle))
}

// Edge returns the ends of edge i, which runs from corner i to the next.
func (p Polygon) Edge(i int) (from, to r2.Vec) { return p[i], p[(i+1)%len(p)] }

// Inward returns the unit vector from edge i into the polygon.
func (p Polygon) Inward(i int) r2.Vec {
	from, to := p.Edge(i)
	along := r2.Unit(r2.Sub(to, from))
	area, _ := p.Moment()
	return r2.Scale(math.Copysign(1, area), r2.Vec{X: -along.Y, Y: along.X})
}

// Clip cuts the polygon to the half-plane a + b·v >= 0 (I. E. Sutherland, G. W.
// Hodgman, Comm. ACM 17 (1974) 32). One that falls into several parts stays one,
// joined along the cut; area and centre of gravity hold all the same.
func (p Polygon) Clip(a float64, b r2.Vec) Polygon {
	var out Polygon
	for i := range p {
		v, w := p.Edge(i)
		dv, dw := a+r2.Dot(b, v), a+r2.Dot(b, w)
		if dv >= 0 {
			out = append(out, v)
		}
		if dv >= 0 != (dw >= 0) {
			out = append(out, r2.Add(v, r2.Scale(dv/(dv-dw), r2.Sub(w, v))))
		}
	}
	return out
}

// Window cuts the polygon to a rectangle.
func (p Polygon) Window(x, y Range) Polygon {
	p = p.Clip(-x.Min, r2.Vec{X: 1}).Clip(x.Max, r2.Vec{X: -1})
	return p.Clip(-y.Min, r2.Vec{Y: 1}).Clip(y.Max, r2.Vec{Y: -1})
}

// Bounds returns the ends of the polygon on both axes.
func (p Polygon) Bounds() (x, y Range) {
	x, y = Range{math.Inf(1), math.Inf(-1)}, Range{math.Inf(1), math.Inf(-1)}
	for _, v := range p {
		x, y = Range{min(x.Min, v.X), max(x.Max, v.X)}, Range{min(y.Min, v.Y), max(y.Max, v.Y)}
	}
	return x, y
}

// Ends returns how high the polygon reaches at its two ends on the axis across.
func (p Polygon) Ends() [2]float64 {
	x, _ := p.Bounds()
	ends := [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, v := range p {
		for i, at := range [2]float64{x.Min, x.Max} {
			if math.Abs(v.X-at) < slack {
				ends[i] = max(ends[i], v.Y)
			}
		}
	}
	return ends
}

// LowEnd returns how high the polygon reaches at the lower of its [Polygon.Ends].
func (p Polygon) LowEnd() float64 {
	ends := p.Ends()
	return min(ends[0], ends[1])
}

// spanAt returns where a convex polygon begins and ends at a height, on the axis across. At a height that it
// does not reach the end is before the beginning.
func (p Polygon) spanAt(height float64) Range {
	x := Range{math.Inf(1), math.Inf(-1)}
	for i := range p {
		a, b := p.Edge(i)
		if a.Y > height != (b.Y > height) {
			at := a.X + (height-a.Y)/(b.Y-a.Y)*(b.X-a.X)
			x = Range{min(x.Min, at), max(x.Max, at)}
		}
	}
	return x
}

// Simplified returns the polygon without corners that repeat another or lie on the line between their
// neighbours.
func (p Polygon) Simplified() Polygon {
	out := slices.Clone(p)
	for i := 0; i < len(out) && len(out) > 2; {
		n := len(out)
		if r2.Norm(r2.Sub(out[i], nearestOn(out[(i+n-1)%n], out[(i+1)%n], out[i]))) > slack {
			i++
			continue
		}
		out = slices.Delete(out, i, i+1)
		i = max(0, i-1)
	}
	return out
}

// Contains reports whether a place is inside. Places on an edge may fall either
// way.
func (p Polygon) Contains(v r2.Vec) bool {
	inside := false
	for i := range p {
		a, b := p.Edge(i)
		if a.Y > v.Y != (b.Y > v.Y) && v.X < a.X+(v.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			inside = !inside
		}
	}
	return inside
}

// Distance returns how far a place is from the nearest edge in m.
func (p Polygon) Distance(v r2.Vec) float64 {
	best := math.Inf(1)
	for i := range p {
		a, b := p.Edge(i)
		best = min(best, r2.Norm(r2.Sub(v, nearestOn(a, b, v))))
	}
	return best
}

// nearestOn returns the place on the line from a to b that is nearest to v.
func nearestOn(a, b, v r2.Vec) r2.Vec {
	along := r2.Sub(b, a)
	t := r2.Dot(r2.Sub(v, a), along) / r2.Norm2(along)
	if !(t > 0) {
		t = 0
	}
	return r2.Add(a, r2.Scale(min(t, 1), along))
}

// Ahead returns how far it is in m from a place to the first edge in the direction
// of +x; 0 if there is none.
func (p Polygon) Ahead(v r2.Vec) float64 {
	best := math.Inf(1)
	for i := range p {
		a, b := p.Edge(i)
		if a.Y > v.Y != (b.Y > v.Y) {
			if x := a.X + (v.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X); x >= v.X {
				best = min(best, x-v.X)
			}
		}
	}
	if math.IsInf(best, 1) {
		return 0
	}
	return best
}

// Crossing returns two edges that cross or touch each other without being
// neighbours; ok is false if there are none and the polygon is simple.
func (p Polygon) Crossing() (i, j int, ok bool) {
	n := len(p)
	for i := range n {
		for j := i + 2; j < n; j++ {
			if (j+1)%n != i && meet(p[i], p[(i+1)%n], p[j], p[(j+1)%n]) {
				return i, j, true
			}
		}
	}
	return 0, 0, false
}

// meet reports whether the lines a-b and c-d share a point.
func meet(a, b, c, d r2.Vec) bool {
	turn := func(a, b, v r2.Vec) float64 { return r2.Cross(r2.Sub(b, a), r2.Sub(v, a)) }
	if turn(a, b, c)*turn(a, b, d) < 0 && turn(c, d, a)*turn(c, d, b) < 0 {
		return true
	}
	on := func(a, b, v r2.Vec) bool { return r2.Norm(r2.Sub(v, nearestOn(a, b, v))) < slack }
	return on(a, b, c) || on(a, b, d) || on(c, d, a) || on(c, d, b)
}

package model

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Slope is a plane ceiling through three points that are not above one line. The
// room is below it, and below its flat ceiling at Size.Z.
type Slope struct {
	Through [3]r3.Vec // m
	Surface Surface   // one that says nothing is that of the ceiling
}

// Edge is what an outline says of one of its walls: what it is called, so that an
// opening can name it, and what it is made of. Either may be left out.
type Edge struct {
	Name string
	Surface
}

// Plane returns the slope as z = height + rise·(x, y): m, and m per m. Three points
// above one line give infinities or NaN.
func (s Slope) Plane() (height float64, rise r2.Vec) {
	p := s.Through
	n := r3.Cross(r3.Sub(p[1], p[0]), r3.Sub(p[2], p[0]))
	rise = r2.Vec{X: -n.X / n.Z, Y: -n.Y / n.Z}
	return p[0].Z - rise.X*p[0].X - rise.Y*p[0].Y, rise
}

// plane is z = height + rise·(x, y).
type plane struct {
	height float64
	rise   r2.Vec
}

func (p plane) at(v r2.Vec) float64 { return p.height + r2.Dot(p.rise, v) }

// Plain reports whether the room is a whole box: no outline, no slopes.
func (r *Room) Plain() bool { return len(r.Outline) == 0 && len(r.Slopes) == 0 }

// Plan returns the floor plan: the outline, or the whole rectangle if there is none.
// The caller must not change it.
func (r *Room) Plan() Polygon {
	if len(r.Outline) > 0 {
		return r.Outline
	}
	return Polygon{{}, {X: r.Size.X}, {X: r.Size.X, Y: r.Size.Y}, {Y: r.Size.Y}}
}

// EdgeFace returns the wall that edge i of the plan faces like: an edge with the
// room behind it, seen from the listener, is a front wall.
func (r *Room) EdgeFace(i int) Face { return FaceOf(r.Plan().Inward(i)) }

// FaceOf returns the wall that one faces like which looks into the room along a vector
// on plan.
func FaceOf(inward r2.Vec) Face {
	switch {
	case math.Abs(inward.X) >= math.Abs(inward.Y) && inward.X > 0:
		return Front
	case math.Abs(inward.X) >= math.Abs(inward.Y):
		return Back
	case inward.Y > 0:
		return Left
	}
	return Right
}

// EdgeName returns what edge i of the outline is called in prose: by its name, or by the
// corner where it begins.
func (r *Room) EdgeName(i int) string {
	if i < len(r.Edges) && r.Edges[i].Name != "" {
		return Sprintf("wall %q", r.Edges[i].Name)
	}
	return fmt.Sprintf("wall from corner %d of the outline", i+1)
}

// EdgeArea returns the area of the wall above edge i of the plan, m².
func (r *Room) EdgeArea(i int) float64 { return r.wallArea(r.Plan().Edge(i)) }

// planes returns the slopes and, last, the flat ceiling.
func (r *Room) planes() []plane {
	list := make([]plane, 0, len(r.Slopes)+1)
	for _, s := range r.Slopes {
		height, rise := s.Plane()
		list = append(list, plane{height, rise})
	}
	return append(list, plane{height: r.Size.Z})
}

// CeilingAt returns the height of the ceiling above a place on the plan, m.
func (r *Room) CeilingAt(v r2.Vec) float64 { return r.planeAt(v).at(v) }

// planeAt returns the plane of the ceiling above a place on the plan: the lowest there.
func (r *Room) planeAt(v r2.Vec) plane {
	lowest := plane{height: r.Size.Z}
	for _, s := range r.Slopes {
		height, rise := s.Plane()
		if p := (plane{height, rise}); p.at(v) < lowest.at(v) {
			lowest = p
		}
	}
	return lowest
}

// ceilings yields each plane of the ceiling with the part of a polygon above which
// it is the lowest.
func (r *Room) ceilings(over Polygon, yield func(plane, Polygon)) {
	planes := r.planes()
	for i, p := range planes {
		part := over
		for j, q := range planes {
			switch {
			case j == i:
			case q.rise == p.rise: // parallel: the lower one, or the first of equals
				if q.height < p.height || q.height == p.height && j < i {
					part = nil
				}
			default:
				part = part.Clip(q.height-p.height, r2.Sub(q.rise, p.rise))
			}
		}
		yield(p, part)
	}
}

// Volume returns the volume of the room in m³, blocks not taken off.
func (r *Room) Volume() float64 {
	if r.Plain() {
		return r.Size.X * r.Size.Y * r.Size.Z
	}
	var volume float64
	r.ceilings(r.Plan(), func(p plane, part Polygon) {
		area, middle := part.Moment()
		volume += math.Abs(area) * p.at(middle)
	})
	return volume
}

// Area returns the area in m² of one of the six walls and of all that faces like
// it: an outline's edges, and slopes for the ceiling.
func (r *Room) Area(f Face) float64 {
	var area float64
	switch {
	case r.Plain():
		u, v := r.Extent(f)
		return u * v
	case f == Floor:
		return r.Plan().Area()
	case f == Ceiling:
		r.ceilings(r.Plan(), func(p plane, part Polygon) {
			area += part.Area() * math.Sqrt(1+r2.Norm2(p.rise))
		})
		return area
	}
	plan := r.Plan()
	for i := range plan {
		if r.EdgeFace(i) == f {
			area += r.EdgeArea(i)
		}
	}
	return area
}

// wallArea returns the area of the upright wall above a line on the plan, m².
func (r *Room) wallArea(from, to r2.Vec) float64 {
	at := r.kinks(from, to)
	var area float64
	for i := range at[1:] {
		area += (at[i+1] - at[i]) * (r.CeilingAt(along(from, to, at[i])) + r.CeilingAt(along(from, to, at[i+1]))) / 2
	}
	return area * r2.Norm(r2.Sub(to, from))
}

// kinks returns where the ceiling above a line on the plan may bend, as shares of
// the way, both ends included, in order.
func (r *Room) kinks(from, to r2.Vec) []float64 {
	at := []float64{0, 1}
	planes := r.planes()
	for i, p := range planes {
		for _, q := range planes[:i] {
			a, b := p.at(from)-q.at(from), p.at(to)-q.at(to)
			if t := a / (a - b); t > 0 && t < 1 {
				at = append(at, t)
			}
		}
	}
	slices.SortFunc(at, cmp.Compare[float64])
	return at
}

func along(from, to r2.Vec, t float64) r2.Vec {
	return r2.Add(from, r2.Scale(t, r2.Sub(to, from)))
}

// CeilingLine returns the ceiling above a line on the plan: its ends and where it may
// bend, in order.
func (r *Room) CeilingLine(from, to r2.Vec) []r3.Vec {
	var line []r3.Vec
	for _, t := range r.kinks(from, to) {
		v := along(from, to, t)
		line = append(line, r3.Vec{X: v.X, Y: v.Y, Z: r.CeilingAt(v)})
	}
	return line
}

// CeilingParts returns the plan of each plane of the ceiling, flat ones included.
func (r *Room) CeilingParts() []Polygon {
	var parts []Polygon
	r.ceilings(r.Plan(), func(_ plane, part Polygon) {
		if part.Area() > 0 {
			parts = append(parts, part)
		}
	})
	return parts
}

// highest returns the greatest height of the ceiling above a polygon, m; 0 if the
// polygon is empty.
func (r *Room) highest(over Polygon) float64 {
	var top float64
	r.ceilings(over, func(p plane, part Polygon) {
		for _, v := range part {
			top = max(top, p.at(v))
		}
	})
	return top
}

// wallTop returns the greatest height of one of the four upright walls of the
// bounding box, m.
func (r *Room) wallTop(f Face) float64 {
	if len(r.Slopes) == 0 {
		return r.Size.Z
	}
	size := r.Size
	ends := [4][2]r2.Vec{
		Front: {{}, {Y: size.Y}}, Back: {{X: size.X}, {X: size.X, Y: size.Y}},
		Left: {{}, {X: size.X}}, Right: {{Y: size.Y}, {X: size.X, Y: size.Y}},
	}[f]
	var top float64
	for _, t := range r.kinks(ends[0], ends[1]) {
		top = max(top, r.CeilingAt(along(ends[0], ends[1], t)))
	}
	return top
}

// beyondPlan returns by how much a block reaches out of the floor plan, m: the
// farthest that a corner is outside, or, where a wall pokes into the block, the width
// of what it takes away.
func (r *Room) beyondPlan(b Block) float64 {
	plan := r.Plan()
	var by float64
	for _, v := range b.corners() {
		if !plan.Contains(v) {
			by = max(by, plan.Distance(v))
		}
	}
	wide, deep := b.Max.X-b.Min.X, b.Max.Y-b.Min.Y
	if wide <= 0 || deep <= 0 {
		return by
	}
	lost := wide*deep - plan.Window(Range{b.Min.X, b.Max.X}, Range{b.Min.Y, b.Max.Y}).Area()
	return max(by, lost/max(wide, deep))
}

package model

import (
	"iter"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// CeilingFace is the part of layers on the ceiling that lies on one plane of it.
type CeilingFace struct {
	// Face is its outline in the plane itself, m. On a plane that rises along the length or the width of the
	// room x runs along the length and y along the width, both as measured on the plane; on one that rises
	// aslant, x runs level and y up the slope.
	Face Polygon

	plane plane
	axes  [2]r2.Vec // of the face, on plan: unit vectors
	long  [2]float64
	depth float64
}

// CeilingFaces returns the planes of a sloped ceiling that layers on it cover. Where two planes meet, and
// at a wall that is higher than they are, the face ends so far away that layers with square edges clear
// each other and the wall.
func (r *Room) CeilingFaces(t *Treatment) []CeilingFace {
	p := t.Patch
	var planes []plane
	var parts []Polygon
	r.ceilings(r.Plan().Window(Range{p.Along, p.Along + p.Width}, Range{p.Up, p.Up + p.Height}), func(q plane, part Polygon) {
		if part.Area() > slack {
			planes, parts = append(planes, q), append(parts, part)
		}
	})
	var list []CeilingFace
	for i, q := range planes {
		if part := r.clearOf(q, planes, parts[i], t.Depth()); part.Area() > slack {
			list = append(list, r.ceilingFace(q, part, t.Depth()))
		}
	}
	return list
}

// FaceArea returns the area of layers on a wall as they are built: what a slope leaves of them, and on a sloped
// ceiling that along the slope, m².
func (r *Room) FaceArea(t *Treatment) float64 {
	if !r.followsCeiling(t) {
		return r.TrimmedFace(t).Area()
	}
	var area float64
	for _, f := range r.CeilingFaces(t) {
		area += f.Face.Area()
	}
	return area
}

// ceilingFace returns the face over a part of the plan.
func (r *Room) ceilingFace(q plane, part Polygon, depth float64) CeilingFace {
	f := CeilingFace{plane: q, depth: depth, axes: [2]r2.Vec{{X: 1}, {Y: 1}}, long: [2]float64{1, 1}}
	switch {
	case math.Abs(q.rise.X) < slack:
		f.long[1] = q.stretch()
	case math.Abs(q.rise.Y) < slack:
		f.long[0] = q.stretch()
	default:
		up := r2.Unit(q.rise)
		f.axes, f.long[1] = [2]r2.Vec{{X: up.Y, Y: -up.X}, up}, q.stretch()
	}
	for _, v := range part.Simplified() {
		f.Face = append(f.Face, r2.Vec{X: CleanLength(r2.Dot(v, f.axes[0]) * f.long[0]), Y: CleanLength(r2.Dot(v, f.axes[1]) * f.long[1])})
	}
	return f
}

// clearOf cuts a part of a plane of the ceiling to where the lower side of layers, square to the plane, is as
// far below the other planes as their own layers are deep, and before the walls of the bounding box.
func (r *Room) clearOf(p plane, others []plane, part Polygon, depth float64) Polygon {
	in := depth / p.stretch()
	off := r2.Scale(in, p.rise) // on plan, from a place on the plane to that on the layers' lower side
	for _, q := range others {
		if q != p {
			part = part.Clip(q.height+r2.Dot(q.rise, off)-p.height+in-depth*q.stretch(), r2.Sub(q.rise, p.rise))
		}
	}
	return part.Window(Range{-off.X, r.Size.X - off.X}, Range{-off.Y, r.Size.Y - off.Y})
}

// CeilingStretch is how much larger the ceiling over a place on the plan is than its plan: 1 where it is level.
func (r *Room) CeilingStretch(v r2.Vec) float64 { return r.planeAt(v).stretch() }

// stretch is how much larger an area on a plane is than its plan.
func (p plane) stretch() float64 { return math.Sqrt(1 + r2.Norm2(p.rise)) }

// Space returns the box about a part of the face with the layers below it.
func (f *CeilingFace) Space(part Polygon) Block {
	var plan Polygon
	for _, v := range part {
		plan = append(plan, r2.Add(r2.Scale(v.X/f.long[0], f.axes[0]), r2.Scale(v.Y/f.long[1], f.axes[1])))
	}
	x, y := plan.Bounds()
	var b Block
	b.Min.X, b.Max.X, b.Min.Y, b.Max.Y = CleanLength(x.Min), CleanLength(x.Max), CleanLength(y.Min), CleanLength(y.Max)
	b.Min.Z, b.Max.Z = math.Inf(1), math.Inf(-1)
	for _, v := range plan {
		b.Min.Z, b.Max.Z = min(b.Min.Z, f.plane.at(v)), max(b.Max.Z, f.plane.at(v))
	}
	b.Min.Z -= f.depth * f.plane.stretch()
	return b
}

// followsCeiling reports whether a treatment is layers on a sloped ceiling.
func (r *Room) followsCeiling(t *Treatment) bool {
	return t.Form == OnWall && t.Patch.Face == Ceiling && len(r.Slopes) > 0
}

// strip is how long the parts are in which layers that follow a slope are taken as boxes, m.
const strip = 0.2

// Spaces yields the boxes that a treatment stands in: its [Room.Space], or of layers on a sloped ceiling those of
// parts of it, so that there is room below where they are high.
func (r *Room) Spaces(t *Treatment) iter.Seq[Block] {
	return func(yield func(Block) bool) {
		if !r.followsCeiling(t) {
			yield(r.Space(t))
			return
		}
		part := *t
		p := &part.Patch
		rows, columns := 1.0, 1.0
		for _, s := range r.Slopes {
			_, rise := s.Plane()
			if math.Abs(rise.X) > slack {
				rows = math.Ceil(t.Patch.Width/strip - slack)
			}
			if math.Abs(rise.Y) > slack {
				columns = math.Ceil(t.Patch.Height/strip - slack)
			}
		}
		p.Width, p.Height = p.Width/rows, p.Height/columns
		for i := range int(rows) {
			for j := range int(columns) {
				p.Along, p.Up = t.Patch.Along+float64(i)*p.Width, t.Patch.Up+float64(j)*p.Height
				if !yield(r.Space(&part)) {
					return
				}
			}
		}
	}
}

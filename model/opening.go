package model

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Opening is a door, a window or a hole in a wall.
//
// Patch.Face names one of the four sides of the room, and then every wall that faces
// like it: in an outline the opening is in the one that stands there. Or Edge is 1 + the
// index of an edge of the outline, Patch.Along counts along that from the corner where
// it begins, and Patch.Face is what the edge faces like, see [Room.EdgeFace].
type Opening struct {
	Kind    string // "door", "window" or "hole"
	Name    string
	Patch   Patch
	Edge    int // 0: the wall that Patch.Face names
	Surface Surface
	Swing   string // "inward", "outward", "sliding" or ""; doors and windows
}

// Stretch is a piece of an upright wall on plan.
type Stretch struct {
	From, To r2.Vec // its ends, m
	Inward   r2.Vec // unit vector into the room
}

// Stretch returns where on plan an opening is. It is false for one in floor or ceiling,
// and where no one wall holds all of it.
func (r *Room) Stretch(o *Opening) (Stretch, bool) {
	s, problem := r.place(o)
	return s, problem == "" && o.Patch.Face.Axis() != 2
}

// place is Stretch with what is wrong, in words.
func (r *Room) place(o *Opening) (Stretch, string) {
	p := o.Patch
	switch {
	case p.Face.Axis() == 2:
		return Stretch{}, ""
	case o.Edge > len(r.Outline) || o.Edge < 0:
		return Stretch{}, "must be in a wall that the outline has"
	case o.Edge > 0:
		from, to := r.Outline.Edge(o.Edge - 1)
		way := r2.Unit(r2.Sub(to, from))
		return Stretch{
			From: r2.Add(from, r2.Scale(p.Along, way)), To: r2.Add(from, r2.Scale(p.Along+p.Width, way)),
			Inward: r.Outline.Inward(o.Edge - 1),
		}, ""
	case len(r.Outline) == 0 || r.walled(p, r.side(p.Face)):
		return r.stretchAt(p, r.side(p.Face)), ""
	}
	walls, whole := r.facing(p)
	if len(whole) == 1 {
		return r.stretchAt(p, whole[0]), ""
	}
	return Stretch{}, r.noOneWall(p, walls, whole)
}

// side returns where one of the four sides of the bounding rectangle is, on its axis, m.
func (r *Room) side(f Face) float64 {
	return [4]float64{Front: 0, Back: r.Size.X, Left: 0, Right: r.Size.Y}[f]
}

// stretchAt returns a patch on a wall that is parallel to its side, at a place on the
// axis across.
func (r *Room) stretchAt(p Patch, at float64) Stretch {
	s := Stretch{From: r2.Vec{X: at, Y: p.Along}, To: r2.Vec{X: at, Y: p.Along + p.Width}, Inward: r2.Vec{X: 1}}
	if p.Face.Axis() == 1 {
		s = Stretch{From: r2.Vec{X: p.Along, Y: at}, To: r2.Vec{X: p.Along + p.Width, Y: at}, Inward: r2.Vec{Y: 1}}
	}
	if p.Face.Far() {
		s.Inward = r2.Scale(-1, s.Inward)
	}
	return s
}

// parallelWall is a wall of the outline that runs along one of the four sides.
type parallelWall struct {
	at   float64 // on the axis across, m
	ends Range   // along it, m
}

// facing returns the walls of the outline that face like a patch and run along its side,
// and where those stand that hold all of it.
func (r *Room) facing(p Patch) (walls []parallelWall, whole []float64) {
	for i := range r.Outline {
		from, to := r.Outline.Edge(i)
		if p.Face.Axis() == 1 {
			from, to = r2.Vec{X: from.Y, Y: from.X}, r2.Vec{X: to.Y, Y: to.X}
		}
		if r.EdgeFace(i) != p.Face || math.Abs(from.X-to.X) > slack {
			continue
		}
		walls = append(walls, parallelWall{at: from.X, ends: Range{min(from.Y, to.Y), max(from.Y, to.Y)}})
		if known := len(whole) > 0 && math.Abs(whole[len(whole)-1]-from.X) < slack; !known && r.walled(p, from.X) {
			whole = append(whole, from.X)
		}
	}
	return walls, whole
}

// noOneWall says which walls there are where an opening has none or more than one.
func (r *Room) noOneWall(p Patch, walls []parallelWall, whole []float64) string {
	const name = "name the one you mean by wall at the corner of the outline where it begins, and write that name here"
	side, across := p.Face.Wall(), [2]string{"from the front wall", "from the left wall"}[p.Face.Axis()]
	if len(whole) > 1 {
		return fmt.Sprintf("could be in %d walls that face like the %s, %s; %s", len(whole), side, metres(whole)+" "+across, name)
	}
	var there []string
	for _, w := range walls {
		there = append(there, fmt.Sprintf("from %.6g to %.6g m the one %.6g m %s", w.ends.Min, w.ends.Max, w.at, across))
	}
	if len(there) == 0 {
		return fmt.Sprintf("must be in a wall that faces like the %s and runs along it, of which the outline has none; %s", side, name)
	}
	text := fmt.Sprintf("must be whole in one of the walls that face like the %s: %s; it would reach from %.6g to %.6g m",
		side, strings.Join(there, ", "), p.Along, p.Along+p.Width)
	if r.aslant() {
		text += "; a wall that stands aslant needs a name, by wall at the corner of the outline where it begins"
	}
	return text
}

// aslant reports whether a wall of the outline runs along none of the four sides.
func (r *Room) aslant() bool {
	for i := range r.Outline {
		if from, to := r.Outline.Edge(i); math.Abs(from.X-to.X) > slack && math.Abs(from.Y-to.Y) > slack {
			return true
		}
	}
	return false
}

// metres lists lengths: "1.2 m and 3 m".
func metres(list []float64) string {
	var words []string
	for _, v := range list {
		words = append(words, fmt.Sprintf("%.6g m", v))
	}
	return strings.Join(words, " and ")
}

// BorderPatch returns the rectangle of a side of the bounding box that an opening takes
// up; false if the wall that it is in stands inside.
func (r *Room) BorderPatch(o *Opening) (Patch, bool) {
	if o.Edge == 0 && (len(r.Outline) == 0 || o.Patch.Face.Axis() == 2) {
		return o.Patch, true
	}
	s, ok := r.Stretch(o)
	if !ok {
		return Patch{}, false
	}
	for _, f := range Faces[:4] {
		a, b := s.From, s.To
		if f.Axis() == 1 {
			a, b = r2.Vec{X: a.Y, Y: a.X}, r2.Vec{X: b.Y, Y: b.X}
		}
		if math.Abs(a.X-r.side(f)) < slack && math.Abs(b.X-r.side(f)) < slack {
			if o.Edge == 0 {
				return o.Patch, true
			}
			return Patch{Face: f, Along: min(a.Y, b.Y), Up: o.Patch.Up, Width: math.Abs(b.Y - a.Y), Height: o.Patch.Height}, true
		}
	}
	return Patch{}, false
}

// OpeningWall says which wall an opening is in: "back wall", or the name that the
// outline gives it.
func (r *Room) OpeningWall(o *Opening) string {
	if o.Edge > 0 {
		return r.EdgeName(o.Edge - 1)
	}
	return o.Patch.Face.Wall()
}

// OpeningEdge returns the edge of the outline that an opening is in, or most of it; -1
// without an outline, and for floor and ceiling.
func (r *Room) OpeningEdge(o *Opening) int {
	s, ok := r.Stretch(o)
	if !ok {
		return -1
	}
	mid := along(s.From, s.To, 0.5)
	for i := range r.Outline {
		if from, to := r.Outline.Edge(i); r2.Norm(r2.Sub(mid, nearestOn(from, to, mid))) < 2*slack {
			return i
		}
	}
	return -1
}

// Length returns the length of a stretch in m.
func (s Stretch) Length() float64 { return r2.Norm(r2.Sub(s.To, s.From)) }

// Overlap returns the length in m that two stretches of one wall share.
func (s Stretch) Overlap(q Stretch) float64 {
	way := r2.Unit(r2.Sub(s.To, s.From))
	if r2.Dot(s.Inward, q.Inward) < 1-slack || math.Abs(r2.Dot(s.Inward, r2.Sub(q.From, s.From))) > slack {
		return 0
	}
	a, b := r2.Dot(way, r2.Sub(q.From, s.From)), r2.Dot(way, r2.Sub(q.To, s.From))
	return max(0, min(s.Length(), max(a, b))-max(0, min(a, b)))
}

// inFrontOf returns the upright box about the space that reaches from a stretch into
// the room by depth, from floor to ceiling.
func (r *Room) inFrontOf(s Stretch, depth float64) Block {
	in := r2.Scale(depth, s.Inward)
	b := Block{Min: r3.Vec{X: math.Inf(1), Y: math.Inf(1)}, Max: r3.Vec{X: math.Inf(-1), Y: math.Inf(-1), Z: r.Size.Z}}
	for _, v := range [4]r2.Vec{s.From, s.To, r2.Add(s.From, in), r2.Add(s.To, in)} {
		b.Min.X, b.Min.Y = min(b.Min.X, v.X), min(b.Min.Y, v.Y)
		b.Max.X, b.Max.Y = max(b.Max.X, v.X), max(b.Max.Y, v.Y)
	}
	return b
}

// WallEnds returns the ends of one of the four sides of the bounding rectangle on plan, from the one nearer the
// origin.
func (r *Room) WallEnds(f Face) (from, to r2.Vec) {
	along, _ := r.Extent(f)
	s := r.stretchAt(Patch{Face: f, Width: along}, r.side(f))
	return s.From, s.To
}

package scene

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
)

// Shape is where the air is: within the bounding box, inside the outline, below all slopes and
// outside all blocks.
type Shape struct {
	size    r3.Vec
	Outline model.Polygon
	Slopes  []Slope
	Blocks  []Solid
}

// NewShape returns the shape of a scene.
func NewShape(s *Scene) *Shape {
	h := &Shape{size: s.Size, Outline: s.Outline, Slopes: s.Slopes, Blocks: s.Blocks}
	if len(h.Outline) < 3 {
		h.Outline = model.Polygon{{}, {X: s.Size.X}, {X: s.Size.X, Y: s.Size.Y}, {Y: s.Size.Y}}
	}
	return h
}

// FillsBox reports whether air fills the whole bounding box.
func (s *Scene) FillsBox() bool {
	return len(s.Outline) < 3 && len(s.Slopes) == 0 && len(s.Blocks) == 0
}

// Air returns the volume of air in a box with the given corners, m³. It is exact for outlines,
// slopes and blocks, provided that no three blocks overlap.
func (h *Shape) Air(low, high r3.Vec) float64 {
	v := h.hollow(low, high)
	for i, b := range h.Blocks {
		from, to := Overlap(low, high, b.Min, b.Max)
		v -= h.hollow(from, to)
		for _, c := range h.Blocks[:i] {
			both, end := Overlap(from, to, c.Min, c.Max)
			v += h.hollow(both, end)
		}
	}
	return max(0, v)
}

// Overlap returns the corners of the box that two boxes share. If they share none, some coordinate
// of from is above that of to.
func Overlap(low, high, min, max r3.Vec) (from, to r3.Vec) {
	return r3.Vec{X: math.Max(low.X, min.X), Y: math.Max(low.Y, min.Y), Z: math.Max(low.Z, min.Z)},
		r3.Vec{X: math.Min(high.X, max.X), Y: math.Min(high.Y, max.Y), Z: math.Min(high.Z, max.Z)}
}

// hollow is Air without the blocks.
func (h *Shape) hollow(low, high r3.Vec) float64 {
	low, high = Overlap(low, high, r3.Vec{}, h.size)
	if low.X >= high.X || low.Y >= high.Y || low.Z >= high.Z {
		return 0
	}
	plan := h.Plan(low, high)
	if len(h.Slopes) == 0 {
		return plan.Area() * (high.Z - low.Z)
	}
	var v float64
	for i := range h.Slopes {
		v += math.Abs(under(h.Lowest(plan, i), h.Slopes[i], low.Z, high.Z))
	}
	return v
}

// Plan returns the part of the outline inside a rectangle.
func (h *Shape) Plan(low, high r3.Vec) model.Polygon {
	return h.Outline.Window(model.Range{Min: low.X, Max: high.X}, model.Range{Min: low.Y, Max: high.Y})
}

// Lowest returns the part of a polygon where slope i is the lowest of all.
func (h *Shape) Lowest(plan model.Polygon, i int) model.Polygon {
	s := h.Slopes[i]
	for j, o := range h.Slopes {
		switch {
		case j == i:
		case o.Rise == s.Rise: // parallel: the lower one, or the first of equals
			if o.Height < s.Height || o.Height == s.Height && j < i {
				return nil
			}
		default:
			plan = plan.Clip(o.Height-s.Height, r2.Sub(o.Rise, s.Rise))
		}
	}
	return plan
}

// At returns the height of a slope above a place on the floor plan, m.
func (s Slope) At(p r2.Vec) float64 { return s.Height + r2.Dot(s.Rise, p) }

// minArea is the area in m² below which a polygon has no usable centre, since dividing by it may
// overflow.
const minArea = 1e-15

// under returns the volume above a polygon, from z = low up to a slope but not above high. Its sign
// is that of the polygon's sense.
func under(plan model.Polygon, s Slope, low, high float64) float64 {
	full, _ := plan.Clip(s.Height-high, s.Rise).Moment()
	part := plan.Clip(high-s.Height, r2.Scale(-1, s.Rise)).Clip(s.Height-low, s.Rise)
	area, middle := part.Moment()
	v := full * (high - low)
	if math.Abs(area) > minArea {
		v += area * (s.At(middle) - low)
	}
	return v
}

// OnBorder reports whether an edge runs along the bounding box.
func (h *Shape) OnBorder(a, b r2.Vec) bool {
	const tiny = 1e-9
	same := func(p, q, at float64) bool { return math.Abs(p-at) < tiny && math.Abs(q-at) < tiny }
	return same(a.X, b.X, 0) || same(a.X, b.X, h.size.X) || same(a.Y, b.Y, 0) || same(a.Y, b.Y, h.size.Y)
}

// Ceiling returns the height of the ceiling above a place, at most top.
func (h *Shape) Ceiling(p r2.Vec, top float64) float64 {
	for _, s := range h.Slopes {
		top = min(top, s.At(p))
	}
	return top
}

// crosses reports whether two edges of the outline cross.
func (h *Shape) crosses() bool {
	n := len(h.Outline)
	for i := range n {
		for j := i + 2; j < n; j++ {
			if i == 0 && j == n-1 {
				continue
			}
			a, b := h.Outline[i], h.Outline[i+1]
			c, d := h.Outline[j], h.Outline[(j+1)%n]
			if side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0 {
				return true
			}
		}
	}
	return false
}

// side tells on which side of the line a-b a point lies.
func side(a, b, p r2.Vec) float64 { return r2.Cross(r2.Sub(b, a), r2.Sub(p, a)) }

// checkShape returns an error if the outline is no room or leaves no air.
func checkShape(s *Scene) error {
	h := NewShape(s)
	if h.crosses() {
		return fmt.Errorf("wave: the outline crosses itself")
	}
	for i, p := range h.Outline {
		if !(p.X >= 0 && p.Y >= 0 && p.X <= s.Size.X && p.Y <= s.Size.Y) {
			return fmt.Errorf("wave: corner %d of the outline is outside the bounding box", i+1)
		}
	}
	for i, b := range s.Blocks {
		if !(b.Min.X < b.Max.X && b.Min.Y < b.Max.Y && b.Min.Z < b.Max.Z) {
			return fmt.Errorf("wave: block %d has no volume", i+1)
		}
	}
	if whole := s.Size.X * s.Size.Y * s.Size.Z; h.Air(r3.Vec{}, s.Size) < whole/1000 {
		return fmt.Errorf("wave: the shape leaves no room for air")
	}
	return nil
}

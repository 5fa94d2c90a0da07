package wave

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
)

// shape is where the air is: inside an outline, below all slopes, outside all
// blocks, within the bounding box.
type shape struct {
	size    r3.Vec
	outline model.Polygon
	slopes  []Slope
	blocks  []Solid
}

func newShape(s *Scene) *shape {
	h := &shape{size: s.Size, outline: s.Outline, slopes: s.Slopes, blocks: s.Blocks}
	if len(h.outline) < 3 {
		h.outline = model.Polygon{{}, {X: s.Size.X}, {X: s.Size.X, Y: s.Size.Y}, {Y: s.Size.Y}}
	}
	return h
}

// plain reports whether the air fills the whole bounding box.
func (s *Scene) plain() bool {
	return len(s.Outline) < 3 && len(s.Slopes) == 0 && len(s.Blocks) == 0
}

// air returns the volume of air between two corners of a box, m³. It is exact for
// outlines, slopes and blocks of which no three overlap.
func (h *shape) air(low, high r3.Vec) float64 {
	v := h.hollow(low, high)
	for i, b := range h.blocks {
		from, to := overlap(low, high, b.Min, b.Max)
		v -= h.hollow(from, to)
		for _, c := range h.blocks[:i] {
			both, end := overlap(from, to, c.Min, c.Max)
			v += h.hollow(both, end)
		}
	}
	return max(0, v)
}

// overlap returns the box that two boxes share; it may be turned inside out.
func overlap(low, high, min, max r3.Vec) (from, to r3.Vec) {
	return r3.Vec{X: math.Max(low.X, min.X), Y: math.Max(low.Y, min.Y), Z: math.Max(low.Z, min.Z)},
		r3.Vec{X: math.Min(high.X, max.X), Y: math.Min(high.Y, max.Y), Z: math.Min(high.Z, max.Z)}
}

// hollow is air with the blocks taken away.
func (h *shape) hollow(low, high r3.Vec) float64 {
	low, high = overlap(low, high, r3.Vec{}, h.size)
	if low.X >= high.X || low.Y >= high.Y || low.Z >= high.Z {
		return 0
	}
	plan := h.plan(low, high)
	if len(h.slopes) == 0 {
		return plan.Area() * (high.Z - low.Z)
	}
	var v float64
	for i := range h.slopes {
		v += math.Abs(under(h.lowest(plan, i), h.slopes[i], low.Z, high.Z))
	}
	return v
}

// plan returns the outline cut to a rectangle.
func (h *shape) plan(low, high r3.Vec) model.Polygon {
	return h.outline.Window(model.Range{Min: low.X, Max: high.X}, model.Range{Min: low.Y, Max: high.Y})
}

// lowest cuts a polygon to where slope i is the lowest of all.
func (h *shape) lowest(plan model.Polygon, i int) model.Polygon {
	s := h.slopes[i]
	for j, o := range h.slopes {
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

// at returns the height of a slope over a place on plan.
func (s Slope) at(p r2.Vec) float64 { return s.Height + r2.Dot(s.Rise, p) }

// hairline is an area in m² that has no centre worth the name: dividing by less may
// leave the range of numbers.
const hairline = 1e-15

// under returns the volume between z = low and a slope, but not above high, over
// a polygon. Its sign is that of the polygon's sense.
func under(plan model.Polygon, s Slope, low, high float64) float64 {
	full, _ := plan.Clip(s.Height-high, s.Rise).Moment()
	part := plan.Clip(high-s.Height, r2.Scale(-1, s.Rise)).Clip(s.Height-low, s.Rise)
	area, middle := part.Moment()
	v := full * (high - low)
	if math.Abs(area) > hairline {
		v += area * (s.at(middle) - low)
	}
	return v
}

// crosses reports whether two edges of the outline cross, which makes it no room.
func (h *shape) crosses() bool {
	n := len(h.outline)
	for i := range n {
		for j := i + 2; j < n; j++ {
			if i == 0 && j == n-1 {
				continue
			}
			a, b := h.outline[i], h.outline[i+1]
			c, d := h.outline[j], h.outline[(j+1)%n]
			if side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0 {
				return true
			}
		}
	}
	return false
}

// side tells on which side of the line a-b a point lies.
func side(a, b, p r2.Vec) float64 { return r2.Cross(r2.Sub(b, a), r2.Sub(p, a)) }

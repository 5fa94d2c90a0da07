package wave

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// shape is where the air is: inside an outline, below all slopes, outside all
// blocks, within the bounding box.
type shape struct {
	size    r3.Vec
	outline []r2.Vec // counter-clockwise
	slopes  []Slope
	blocks  []Solid
}

func newShape(s *Scene) *shape {
	h := &shape{size: s.Size, outline: s.Outline, slopes: s.Slopes, blocks: s.Blocks}
	if len(h.outline) < 3 {
		h.outline = []r2.Vec{{}, {X: s.Size.X}, {X: s.Size.X, Y: s.Size.Y}, {Y: s.Size.Y}}
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
		area, _ := moment(plan)
		return math.Abs(area) * (high.Z - low.Z)
	}
	var v float64
	for i := range h.slopes {
		v += math.Abs(under(h.lowest(plan, i), h.slopes[i], low.Z, high.Z))
	}
	return v
}

// plan returns the outline cut to a rectangle.
func (h *shape) plan(low, high r3.Vec) []r2.Vec {
	p := clip(h.outline, -low.X, r2.Vec{X: 1})
	p = clip(p, high.X, r2.Vec{X: -1})
	p = clip(p, -low.Y, r2.Vec{Y: 1})
	return clip(p, high.Y, r2.Vec{Y: -1})
}

// lowest cuts a polygon to where slope i is the lowest of all.
func (h *shape) lowest(plan []r2.Vec, i int) []r2.Vec {
	s := h.slopes[i]
	for j, o := range h.slopes {
		switch {
		case j == i:
		case o.Rise == s.Rise: // parallel: the lower one, or the first of equals
			if o.Height < s.Height || o.Height == s.Height && j < i {
				return nil
			}
		default:
			plan = clip(plan, o.Height-s.Height, r2.Sub(o.Rise, s.Rise))
		}
	}
	return plan
}

// at returns the height of a slope over a place on plan.
func (s Slope) at(p r2.Vec) float64 { return s.Height + r2.Dot(s.Rise, p) }

// under returns the volume between z = low and a slope, but not above high, over
// a polygon. Its sign is that of the polygon's sense.
func under(plan []r2.Vec, s Slope, low, high float64) float64 {
	full, _ := moment(clip(plan, s.Height-high, s.Rise))
	part := clip(plan, high-s.Height, r2.Scale(-1, s.Rise))
	part = clip(part, s.Height-low, s.Rise)
	area, middle := moment(part)
	v := full * (high - low)
	if area != 0 {
		v += area * (s.at(middle) - low)
	}
	return v
}

// clip cuts a polygon to the half-plane a + b·p >= 0 (Sutherland and Hodgman
// 1974). A polygon that falls into several parts stays one, joined along the cut;
// areas and moments hold all the same.
func clip(p []r2.Vec, a float64, b r2.Vec) []r2.Vec {
	var out []r2.Vec
	for i, v := range p {
		w := p[(i+1)%len(p)]
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

// moment returns the area of a polygon, positive if counter-clockwise, and its
// centre of gravity.
func moment(p []r2.Vec) (area float64, middle r2.Vec) {
	if len(p) < 3 {
		return 0, r2.Vec{}
	}
	for i := 1; i+1 < len(p); i++ {
		u, v := r2.Sub(p[i], p[0]), r2.Sub(p[i+1], p[0])
		part := r2.Cross(u, v) / 2
		area += part
		middle = r2.Add(middle, r2.Scale(part/3, r2.Add(u, v)))
	}
	if area == 0 {
		return 0, p[0]
	}
	return area, r2.Add(p[0], r2.Scale(1/area, middle))
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

package build

import (
	"math"

	"evenbass/model"
)

// sliver is the widest strip that is not cut, m: wool is squeezed over it, or it stays open. A narrower part
// neither holds nor lets itself be cut. Common practice, no source.
const sliver = 0.01

// fillFace adds the wool of a piece with one face: its parts, and what these weigh, however far they are pressed in.
func (m *maker) fillFace(p *Piece, r recipe) {
	for _, y := range r.plies {
		b := &m.plan.Batts[y.batt]
		before, area := len(b.Shapes), 0.0 // m², of the parts
		for range y.count {
			n, pressed := m.tile(y.batt, len(m.plan.Pieces), p.Width, p.Height, p.Outline)
			p.Slabs, p.Pressed = p.Slabs+n, p.Pressed || pressed
		}
		for _, s := range b.Shapes[before:] {
			area += s.Area()
		}
		p.Weight = plus(p.Weight, m.wools[y.batt].density, area*b.Batt.Layer.Thickness)
	}
}

// tile adds the parts of one ply of a face: one, or as many as a batt makes necessary. A strip no wider than a
// [sliver] beyond whole batts is none. outline is that of the face, nil for a rectangle. It returns how many, and
// whether one is larger than its place.
func (m *maker) tile(batt, piece int, width, height float64, outline model.Polygon) (n int, pressed bool) {
	b := &m.plan.Batts[batt].Batt
	lay := func(s Shape) {
		whole := squeezed(s, *b)
		m.cut(batt, whole)
		n++
		pressed = pressed || whole.Area() > s.Area()+slack
	}
	if s := (Shape{Width: width, Height: height, Outline: outline, Piece: piece}); s.Fits(b.Length, b.Width) {
		lay(s)
		return n, pressed
	}
	w, h := b.Length, b.Width
	if divide(width, h)*divide(height, w) < divide(width, w)*divide(height, h) {
		w, h = h, w
	}
	for x := range divide(width, w) {
		for y := range divide(height, h) {
			left, low := float64(x)*w, float64(y)*h
			s, ok := Shape{Width: min(w, width-left), Height: min(h, height-low), Piece: piece}, true
			if outline != nil {
				window := outline.Window(model.Range{Min: left, Max: left + s.Width}, model.Range{Min: low, Max: low + s.Height})
				if s, ok = shapeOf(window, piece); s.Outline != nil && s.Outline.LowEnd() > s.Height-squeeze {
					s.Outline = nil
				}
			}
			if ok {
				lay(s)
			}
		}
	}
	return n, pressed
}

// cut adds a part to those of a batt. Beyond [mostParts] it adds none: [Make] refuses such a plan.
func (m *maker) cut(batt int, s Shape) {
	if m.parts() <= mostParts {
		m.plan.Batts[batt].Shapes = append(m.plan.Batts[batt].Shapes, s)
	}
}

// divide is how many parts of a size fill a length but for a [sliver].
func divide(length, size float64) int { return max(1, int(math.Ceil((length-sliver)/size-1e-6))) }

// squeezed takes a side slightly shorter than a batt as long as the batt: the batt is pressed in rather than
// trimmed. One with an outline stays as it is.
func squeezed(s Shape, b model.Batt) Shape {
	if s.Outline != nil {
		return s
	}
	near := func(v, side float64) float64 {
		if v < side && side-v <= squeeze {
			return side
		}
		return v
	}
	for _, side := range []float64{b.Width, b.Length} {
		wide, tall := s, s
		if wide.Width = near(s.Width, side); wide.Fits(b.Length, b.Width) {
			s, tall = wide, wide
		}
		if tall.Height = near(s.Height, side); tall.Fits(b.Length, b.Width) {
			s = tall
		}
	}
	return s
}

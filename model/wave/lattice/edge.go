package lattice

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model/wave/scene"
)

// edgeWall is the upright wall above one edge of the outline.
type edgeWall struct {
	from, along r2.Vec // its start, and the vector to its end
	length      float64
	inward      r2.Vec
	whole       int // surface, -1 if it is rigid
	insets      []edgeInset
}

// edgeInset is a rectangle of the wall with a surface of its own.
type edgeInset struct {
	from, to  float64 // shares of the edge
	low, high float64 // m
	surface   int
}

// newEdgeWall returns the wall above edge e with the given surface.
func newEdgeWall(h *scene.Shape, e, surface int) *edgeWall {
	a, b := h.Outline.Edge(e)
	along := r2.Sub(b, a)
	return &edgeWall{from: a, along: along, length: r2.Norm(along), inward: h.Outline.Inward(e), whole: surface}
}

// inset adds a rectangle if it lies in this wall.
func (w *edgeWall) inset(p scene.Inset, surface int) {
	const tiny = 1e-5 // m
	off := func(v r2.Vec) float64 { return math.Abs(r2.Dot(w.inward, r2.Sub(v, w.from))) }
	if !(off(p.From) < tiny && off(p.To) < tiny && r2.Dot(w.inward, p.Inward) > 1-tiny) {
		return
	}
	share := func(v r2.Vec) float64 { return r2.Dot(w.along, r2.Sub(v, w.from)) / (w.length * w.length) }
	a, b := share(p.From), share(p.To)
	from, to := max(0, min(a, b)), min(1, max(a, b))
	if from < to {
		w.insets = append(w.insets, edgeInset{from, to, p.Low, p.High, surface})
	}
}

// drawEdge adds the surfaces of one wall of the outline. An edge along the bounding box belongs to
// a wall of the box and is skipped.
func (m *Medium) drawEdge(h *scene.Shape, w *edgeWall) {
	if w.length == 0 || h.OnBorder(w.from, r2.Add(w.from, w.along)) {
		return
	}
	m.Each(func(i int, c [3]int) {
		low, high := m.corners(c)
		// Just inside, so that a wall on a cell's border belongs to the cell with air.
		shift := r2.Scale(slice*m.H[0], w.inward)
		from, to := segment(r2.Add(w.from, shift), w.along, low, high)
		if from >= to {
			return
		}
		top := h.Ceiling(r2.Add(w.from, r2.Scale((from+to)/2, w.along)), high.Z)
		if top <= low.Z {
			return
		}
		center := m.middle(c)
		depth := r2.Dot(w.inward, r2.Sub(r2.Vec{X: center.X, Y: center.Y}, w.from))
		w.shares(from, to, low.Z, top, func(surface int, area float64) {
			if surface >= 0 {
				m.addCut(i, surface, area, depth)
			}
		})
	})
}

// shares calls f with the area in m² that each surface has of a rectangle of the wall. The
// rectangle is given by shares of the wall's length and by heights in m.
func (w *edgeWall) shares(from, to, low, high float64, f func(surface int, area float64)) {
	left := (to - from) * w.length * (high - low)
	for k := len(w.insets) - 1; k >= 0 && left > 0; k-- {
		p := w.insets[k]
		wide, tall := min(to, p.to)-max(from, p.from), min(high, p.high)-max(low, p.low)
		if wide > 0 && tall > 0 {
			area := min(left, wide*w.length*tall)
			f(p.surface, area)
			left -= area
		}
	}
	if left > 0 {
		f(w.whole, left)
	}
}

// segment returns the part of a + t·along, 0 <= t <= 1, that is inside a rectangle.
func segment(a, along r2.Vec, low, high r3.Vec) (from, to float64) {
	from, to = 0, 1
	for _, d := range [4][2]float64{
		{a.X - low.X, along.X}, {high.X - a.X, -along.X},
		{a.Y - low.Y, along.Y}, {high.Y - a.Y, -along.Y},
	} {
		switch at := -d[0] / d[1]; {
		case d[1] > 0:
			from = max(from, at)
		case d[1] < 0:
			to = min(to, at)
		case d[0] < 0:
			return 1, 0
		}
	}
	return from, to
}

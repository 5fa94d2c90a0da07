package lattice

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model/wave/scene"
)

// turnAll corrects the faces near all edges that jut into the air.
func (m *Medium) turnAll(s *scene.Scene, h *scene.Shape) {
	for _, w := range m.outlineWedges(h) {
		m.turn(w)
	}
	for _, b := range h.Blocks {
		m.turnBox(s, h, b.Min, b.Max, math.Inf(1))
	}
	for _, p := range s.Porous {
		if !p.Step {
			m.turnBox(s, h, p.Min, p.Max, m.contrast(p))
		}
	}
}

// minWedge is the least thickness of a box, in cells, whose edges are corrected.
const minWedge = 0.9

// outlineWedges returns the corners of the outline that jut into the room.
func (m *Medium) outlineWedges(h *scene.Shape) (list []wedge) {
	n := len(h.Outline)
	var area float64
	for i, p := range h.Outline {
		area += r2.Cross(p, h.Outline[(i+1)%n])
	}
	for i, at := range h.Outline {
		before, after := h.Outline[(i+n-1)%n], h.Outline[(i+1)%n]
		if r2.Cross(r2.Sub(at, before), r2.Sub(after, at))*area >= 0 {
			continue
		}
		u, v := r2.Unit(r2.Sub(before, at)), r2.Unit(r2.Sub(after, at))
		middle, half := r2.Add(u, v), math.Acos(r2.Dot(u, v))/2
		list = append(list, newWedge(2, at, 0, m.Extent().Z, math.Atan2(middle.Y, middle.X), half, math.Inf(1)))
	}
	return list
}

// turnBox corrects the faces near those edges of a box that jut into the air. density is that of what
// fills the box, relative to air. Two edges less than a cell apart are no wedges to the cells.
func (m *Medium) turnBox(s *scene.Scene, h *scene.Shape, low, high r3.Vec, density float64) {
	corners := [2][3]float64{scene.Components(low), scene.Components(high)}
	for axis := range 3 {
		a, b := scene.OtherAxes(axis)
		if corners[1][a]-corners[0][a] < minWedge*m.H[a] || corners[1][b]-corners[0][b] < minWedge*m.H[b] {
			continue
		}
		for e := range 4 {
			at := r2.Vec{X: corners[e&1][a], Y: corners[e>>1][b]}
			in := r2.Vec{X: float64(1 - 2*(e&1)), Y: float64(1 - 2*(e>>1))} // into the box
			w := newWedge(axis, at, corners[0][axis], corners[1][axis], math.Atan2(in.Y, in.X), math.Pi/4, density)
			beside := []r2.Vec{{X: -in.X, Y: in.Y}, {X: in.X, Y: -in.Y}, {X: -in.X, Y: -in.Y}}
			if w.amongAir(s, h, beside) {
				m.turn(w)
			}
		}
	}
}

// amongAir reports whether there is nothing but air beside an edge, in the given diagonal directions.
func (w *wedge) amongAir(s *scene.Scene, h *scene.Shape, directions []r2.Vec) bool {
	const near = 1e-3 // m
	a, b := scene.OtherAxes(w.axis)
	for _, d := range directions {
		var from, to [3]float64
		from[w.axis], to[w.axis] = w.from, w.to
		from[a], to[a] = w.at.X+near*min(0, d.X), w.at.X+near*max(0, d.X)
		from[b], to[b] = w.at.Y+near*min(0, d.Y), w.at.Y+near*max(0, d.Y)
		low, high := scene.Vec(from), scene.Vec(to)
		if h.Air(low, high) < near*near*(w.to-w.from)/2 {
			return false
		}
		for _, p := range s.Porous {
			if from, to := scene.Overlap(low, high, p.Min, p.Max); from.X < to.X && from.Y < to.Y && from.Z < to.Z {
				return false
			}
		}
	}
	return true
}

// contrast returns the density of porous material relative to air at a frequency in the middle of what
// matters.
func (m *Medium) contrast(p scene.Porous) float64 {
	const w = 2 * math.Pi * 125
	return math.Hypot(p.Mass, p.Resistance/w) / m.Air.Density
}

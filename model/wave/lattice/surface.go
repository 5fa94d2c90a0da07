package lattice

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"evenbass/model"
	"evenbass/model/wave/scene"
)

// minWallDepth is the least depth of air, in cells, between a cell's centre and a wall that cuts
// the cell; a smaller depth would need shorter steps. The excess weighs some 0.03 kg/m², which is
// negligible beside a wall.
const minWallDepth = 0.3

// drawSurfaces adds the surfaces of edges, slopes and blocks.
func (m *Medium) drawSurfaces(s *scene.Scene, h *scene.Shape) {
	insets := make([]int, len(s.Insets))
	for k, p := range s.Insets {
		insets[k] = m.surface(p.Surface)
	}
	for e := range h.Outline {
		whole := -1
		if e < len(s.Edges) {
			whole = m.surface(s.Edges[e])
		}
		w := newEdgeWall(h, e, whole)
		for k, p := range s.Insets {
			w.inset(p, insets[k])
		}
		if whole >= 0 || len(w.insets) > 0 {
			m.drawEdge(h, w)
		}
	}
	for i := range s.Slopes {
		if surface := m.surface(s.Slopes[i].Surface); surface >= 0 {
			m.drawSlope(h, i, surface)
		}
	}
	for i := range s.Blocks {
		if surface := m.surface(s.Blocks[i].Surface); surface >= 0 {
			m.drawBlock(h, i, surface)
		}
	}
}

// setWallsBack moves the walls of small cells away from their centres, so that they need no shorter
// steps than the air does. That adds the mass of some air to a wall, less if the wall itself is
// heavy.
func (m *Medium) setWallsBack() {
	for i := range m.Walls {
		w := &m.Walls[i]
		need := w.Area * m.MeanSquare() / (4 * m.Capacity(w.Cell) * m.Cells.Volume())
		w.Depth = max(w.Depth, need-m.surfaceMass(w.Surface)/m.Air.Density)
	}
}

// drawSlope adds the surface of one sloped ceiling.
func (m *Medium) drawSlope(h *scene.Shape, index, surface int) {
	s := h.Slopes[index]
	stretch := math.Sqrt(1 + r2.Norm2(s.Rise))
	s.Height -= slice * m.H[2] // just below, as for edges
	m.Each(func(i int, c [3]int) {
		low, high := m.corners(c)
		p := h.Lowest(h.Plan(low, high), index)
		p = p.Clip(s.Height-low.Z, s.Rise)
		p = p.Clip(high.Z-s.Height, r2.Scale(-1, s.Rise))
		area, _ := p.Moment()
		if area == 0 {
			return
		}
		center := m.middle(c)
		depth := (s.At(r2.Vec{X: center.X, Y: center.Y}) - center.Z) / stretch
		m.addCut(i, surface, math.Abs(area)*stretch, depth)
	})
}

// drawBlock adds the surfaces of a block's sides where air is in front of them.
func (m *Medium) drawBlock(h *scene.Shape, index, surface int) {
	b := h.Blocks[index]
	for _, side := range model.Faces {
		if len(b.Sides) > 0 && !slices.Contains(b.Sides, side) {
			continue
		}
		a, far := side.Axis(), side.Far()
		from, to := scene.Components(b.Min), scene.Components(b.Max)
		plane := from[a]
		thin := slice * m.H[a]
		if far {
			plane = to[a]
			from[a], to[a] = plane, plane+thin
		} else {
			from[a], to[a] = plane-thin, plane
		}
		m.Each(func(i int, c [3]int) {
			low, high := m.corners(c)
			first, last := scene.Overlap(low, high, scene.Vec(from), scene.Vec(to))
			area := h.Air(first, last) / thin
			if area <= 0 {
				return
			}
			depth := math.Abs(scene.Components(m.middle(c))[a] - plane)
			m.addCut(i, surface, area, depth)
		})
	}
}

// addCut adds a wall face that cuts a cell.
func (m *Medium) addCut(cell, surface int, area, depth float64) {
	if m.volume[cell] == 0 {
		return
	}
	least := minWallDepth * math.Sqrt(m.MeanSquare())
	m.addWall(cell, surface, area, max(depth, least-m.surfaceMass(surface)/m.Air.Density))
}

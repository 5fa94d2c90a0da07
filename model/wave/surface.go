package wave

import (
	"math"
	"slices"

	"evenbass/model"

	"gonum.org/v1/gonum/spatial/r2"
)

// nearest is the least depth of air in cells between a cell's middle and a wall
// that cuts the cell; less would ask for shorter steps. What it is too much
// weighs some 0.03 kg/m², nothing beside a wall.
const nearest = 0.3

// drawSurfaces faces the edges, slopes and blocks that have a surface.
func (m *medium) drawSurfaces(s *Scene, h *shape) {
	insets := make([]int, len(s.Insets))
	for k, p := range s.Insets {
		insets[k] = m.surface(p.Surface)
	}
	for e := range h.outline {
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

// ease moves the walls of small cells away from their middles, so that they do not
// ask for shorter steps than the air does. What this adds to a wall is the weight
// of some more air, less where the wall weighs more itself.
func (m *medium) ease() {
	for i := range m.walls {
		w := &m.walls[i]
		need := w.area * m.meanSquare() / (4 * m.capacity(w.cell) * m.lattice.volume())
		w.depth = max(w.depth, need-m.surfaceMass(w.surface)/m.air.Density)
	}
}

// onBorder reports whether an edge runs along the bounding box.
func (h *shape) onBorder(a, b r2.Vec) bool {
	const tiny = 1e-9
	same := func(p, q, at float64) bool { return math.Abs(p-at) < tiny && math.Abs(q-at) < tiny }
	return same(a.X, b.X, 0) || same(a.X, b.X, h.size.X) || same(a.Y, b.Y, 0) || same(a.Y, b.Y, h.size.Y)
}

// ceiling returns the height of the ceiling over a place, at most top.
func (h *shape) ceiling(p r2.Vec, top float64) float64 {
	for _, s := range h.slopes {
		top = min(top, s.at(p))
	}
	return top
}

// drawSlope faces one sloped ceiling.
func (m *medium) drawSlope(h *shape, index, surface int) {
	s := h.slopes[index]
	stretch := math.Sqrt(1 + r2.Norm2(s.Rise))
	s.Height -= skin * m.h[2] // a hair below, as for edges
	m.each(func(i int, c [3]int) {
		low, high := m.corners(c)
		p := h.lowest(h.plan(low, high), index)
		p = p.Clip(s.Height-low.Z, s.Rise)
		p = p.Clip(high.Z-s.Height, r2.Scale(-1, s.Rise))
		area, _ := p.Moment()
		if area == 0 {
			return
		}
		center := m.middle(c)
		depth := (s.at(r2.Vec{X: center.X, Y: center.Y}) - center.Z) / stretch
		m.addCut(i, surface, math.Abs(area)*stretch, depth)
	})
}

// drawBlock faces the six sides of a block where there is air before them.
func (m *medium) drawBlock(h *shape, index, surface int) {
	b := h.blocks[index]
	for _, side := range model.Faces {
		if len(b.Sides) > 0 && !slices.Contains(b.Sides, side) {
			continue
		}
		a, far := side.Axis(), side.Far()
		from, to := vector(b.Min), vector(b.Max)
		plane := from[a]
		thin := skin * m.h[a]
		if far {
			plane = to[a]
			from[a], to[a] = plane, plane+thin
		} else {
			from[a], to[a] = plane-thin, plane
		}
		m.each(func(i int, c [3]int) {
			low, high := m.corners(c)
			first, last := overlap(low, high, point(from), point(to))
			area := h.air(first, last) / thin
			if area <= 0 {
				return
			}
			depth := math.Abs(vector(m.middle(c))[a] - plane)
			m.addCut(i, surface, area, depth)
		})
	}
}

// addCut adds a wall face that cuts a cell.
func (m *medium) addCut(cell, surface int, area, depth float64) {
	if m.volume[cell] == 0 {
		return
	}
	least := nearest * math.Sqrt(m.meanSquare())
	m.addWall(cell, surface, area, max(depth, least-m.surfaceMass(surface)/m.air.Density))
}

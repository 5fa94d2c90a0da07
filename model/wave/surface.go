package wave

import (
	"math"
	"slices"

	"evenbass/model"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// nearest is the least depth of air in cells between a cell's middle and a wall
// that cuts the cell; less would ask for shorter steps. What it is too much
// weighs some 0.03 kg/m², nothing beside a wall.
const nearest = 0.3

// drawSurfaces faces the edges, slopes and blocks that have a surface.
func (m *medium) drawSurfaces(s *Scene, h *shape) {
	for e := range h.outline {
		if e < len(s.Edges) {
			if surface := m.surface(s.Edges[e]); surface >= 0 {
				m.drawEdge(h, e, surface)
			}
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

// drawEdge faces one wall of the outline, from its corner e to the next. What runs
// along the bounding box is a wall of that.
func (m *medium) drawEdge(h *shape, e, surface int) {
	a, b := h.outline[e], h.outline[(e+1)%len(h.outline)]
	along := r2.Sub(b, a)
	length := r2.Norm(along)
	if length == 0 || h.onBorder(a, b) {
		return
	}
	inward := r2.Scale(h.sense()/length, r2.Vec{X: -along.Y, Y: along.X})
	m.each(func(i int, c [3]int) {
		low, high := m.corners(c)
		// A hair inside, so that a wall on a cell's border belongs to the air.
		shift := r2.Scale(skin*m.h[0], inward)
		from, to := segment(r2.Add(a, shift), along, low, high)
		if from >= to {
			return
		}
		mid := r2.Add(a, r2.Scale((from+to)/2, along))
		height := h.ceiling(mid, high.Z) - low.Z
		if height <= 0 {
			return
		}
		center := m.middle(c)
		depth := r2.Dot(inward, r2.Sub(r2.Vec{X: center.X, Y: center.Y}, a))
		m.addCut(i, surface, (to-from)*length*height, depth)
	})
}

// segment returns which part of a + t·along, 0 <= t <= 1, is inside a rectangle.
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

// sense is +1 if the outline runs counter-clockwise, else -1.
func (h *shape) sense() float64 {
	area, _ := h.outline.Moment()
	return math.Copysign(1, area)
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

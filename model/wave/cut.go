package wave

import (
	"fmt"
	"math"

	"evenbass/model"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	// fattest is the most that a cell may open, in sides, for a whole cell's volume.
	fattest = 6.0

	// narrowest is the same where nothing can be borrowed.
	narrowest = 10.0

	// sliver is the share of a cell that counts as nothing.
	sliver = 1e-6

	// skin is the thickness in cells of the slices by which areas are measured.
	skin = 1e-4
)

// cut gives every cell its share of air and every face its open share.
//
// A cell that a wall cuts keeps its middle and takes its true volume: seen from
// inside, the wall then stands where it is, to second order in kh, wherever in
// the cell that is.
func (m *medium) cut(h *shape) {
	open := make([][6]float64, m.size) // of each cell's own six sides
	m.each(func(i int, c [3]int) {
		low, high := m.corners(c)
		share := h.air(low, high) / m.lattice.volume()
		switch {
		case share > 1-sliver:
			m.volume[i] = 1
			open[i] = [6]float64{1, 1, 1, 1, 1, 1}
		case share < sliver:
			m.volume[i] = 0
		default:
			m.volume[i] = share
			for f := range model.Faces {
				open[i][f] = m.sideOpen(h, model.Face(f), low, high)
			}
		}
	})
	m.each(func(i int, c [3]int) {
		for a := range 3 {
			if c[a]+1 < m.n[a] {
				m.open[a][i] = min(open[i][2*a+1], open[i+m.stride[a]][2*a])
			}
		}
	})
	m.outer = open
	m.closeThin(h)
	m.fatten()
}

// corners returns the two corners of a cell.
func (m *medium) corners(c [3]int) (low, high r3.Vec) {
	from, to := [3]float64{}, [3]float64{}
	for a := range c {
		from[a], to[a] = float64(c[a])*m.h[a], float64(c[a]+1)*m.h[a]
	}
	if len(m.moved) > 0 {
		i := m.at(c[0], c[1], c[2])
		for a := range c {
			if x, ok := m.moved[face{a, i - m.stride[a]}]; ok {
				from[a] = x
			}
			if x, ok := m.moved[face{a, i}]; ok {
				to[a] = x
			}
		}
	}
	return point(from), point(to)
}

// sideOpen returns the open share of one side of a cell, from a thin slice of it.
func (m *medium) sideOpen(h *shape, f model.Face, low, high r3.Vec) float64 {
	from, to := vector(low), vector(high)
	a := f.Axis()
	thin := skin * m.h[a]
	if f.Far() {
		from[a] = to[a] - thin
	} else {
		to[a] = from[a] + thin
	}
	return h.air(point(from), point(to)) / (m.lattice.volume() * skin)
}

// point is the inverse of vector.
func point(x [3]float64) r3.Vec { return r3.Vec{X: x[0], Y: x[1], Z: x[2]} }

// closeThin closes faces against blocks thinner than a cell: a table top lies
// inside cells, and what it closes is the way from one middle to the next.
func (m *medium) closeThin(h *shape) {
	for _, b := range h.blocks {
		low, high := vector(b.Min), vector(b.Max)
		for a := range 3 {
			if high[a]-low[a] > m.h[a] {
				continue
			}
			layer := int(math.Floor((low[a]+high[a])/2/m.h[a] - 0.5)) // below the block
			m.each(func(i int, c [3]int) {
				if c[a] == layer && c[a]+1 < m.n[a] {
					m.open[a][i] = max(0, min(m.open[a][i], 1-m.covered(a, c, low, high)))
				}
			})
		}
	}
}

// covered returns the share of a cell's cross-section normal to axis a that a box
// covers.
func (m *medium) covered(a int, c [3]int, low, high [3]float64) float64 {
	share := 1.0
	for _, t := range [2]int{(a + 1) % 3, (a + 2) % 3} {
		from := max(low[t], float64(c[t])*m.h[t])
		to := min(high[t], float64(c[t]+1)*m.h[t])
		share *= max(0, to-from) / m.h[t]
	}
	return share
}

// fatten lends volume to cells that are small for the openings they have, mostly
// from the neighbours to which they open most: the step in time would have to shrink with
// them. The sum stays what it is, and so do all openings. What was lent has moved
// by one cell towards the wall, where pressure hardly changes that way.
func (m *medium) fatten() {
	gain := make([]float64, m.size)
	m.each(func(i int, _ [3]int) {
		if m.volume[i] == 0 || m.volume[i] == 1 {
			return
		}
		lack := m.opening(i)/fattest - m.volume[i]
		if lack <= 0 {
			return
		}
		var sum float64
		m.ways(i, func(_ int, way float64) { sum += way })
		m.ways(i, func(next int, way float64) {
			loan := min(lack*way/sum, m.volume[next]/8)
			gain[i] += loan
			gain[next] -= loan
		})
	})
	for i, v := range gain {
		m.volume[i] += v
	}
	m.throttle()
}

// ways calls f with the neighbours of a cell, each with a weight for how wide the
// way to it is and how much it has to lend.
func (m *medium) ways(i int, f func(next int, way float64)) {
	for a := range 3 {
		for _, next := range [2]int{i - m.stride[a], i + m.stride[a]} {
			if way := m.open[a][min(i, next)] * m.volume[next]; way > 0 {
				f(next, way*way)
			}
		}
	}
}

// throttle narrows the openings of cells that are far too small for them still:
// slivers between two cuts.
func (m *medium) throttle() {
	keep := make([]float64, m.size)
	for i, v := range m.volume {
		keep[i] = 1
		if sum := m.opening(i); v > 0 && sum > narrowest*v {
			keep[i] = narrowest * v / sum
		}
	}
	for a := range 3 {
		for i := range m.open[a] {
			if m.open[a][i] > 0 {
				m.open[a][i] *= min(keep[i], keep[i+m.stride[a]])
			}
		}
	}
}

// opening returns the sum of a cell's open shares, 6 at most.
func (m *medium) opening(i int) float64 {
	var sum float64
	for a := range 3 {
		sum += m.open[a][i]
		if i >= m.stride[a] {
			sum += m.open[a][i-m.stride[a]]
		}
	}
	return sum
}

// checkShape returns an error if the scene's shape leaves no room or is none.
func checkShape(s *Scene) error {
	h := newShape(s)
	if h.crosses() {
		return fmt.Errorf("wave: the outline crosses itself")
	}
	for i, p := range h.outline {
		if !(p.X >= 0 && p.Y >= 0 && p.X <= s.Size.X && p.Y <= s.Size.Y) {
			return fmt.Errorf("wave: corner %d of the outline is outside the bounding box", i+1)
		}
	}
	for i, b := range s.Blocks {
		if !(b.Min.X < b.Max.X && b.Min.Y < b.Max.Y && b.Min.Z < b.Max.Z) {
			return fmt.Errorf("wave: block %d has no volume", i+1)
		}
	}
	if whole := s.Size.X * s.Size.Y * s.Size.Z; h.air(r3.Vec{}, s.Size) < whole/1000 {
		return fmt.Errorf("wave: the shape leaves no room for air")
	}
	return nil
}

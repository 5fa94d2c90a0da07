package lattice

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/wave/scene"
)

const (
	// wantedOpening is the largest opening, in sides, that a cell of full volume should have.
	wantedOpening = 6.0

	// openingLimit is the largest opening where no volume can be borrowed.
	openingLimit = 10.0

	// negligible is the share of a cell that counts as nothing.
	negligible = 1e-6

	// slice is the thickness, in cells, of the slices that areas are measured by.
	slice = 1e-4
)

// cut gives every cell its share of air and every face its open share.
//
// A cell that a wall cuts keeps its centre and takes its true volume. Seen from inside, the wall
// then stands in its true place to second order in kh, wherever in the cell that is.
func (m *Medium) cut(h *scene.Shape) {
	open := make([][6]float64, m.Size) // of each cell's own six sides
	m.Each(func(i int, c [3]int) {
		low, high := m.corners(c)
		share := h.Air(low, high) / m.Cells.Volume()
		switch {
		case share > 1-negligible:
			m.volume[i] = 1
			open[i] = [6]float64{1, 1, 1, 1, 1, 1}
		case share < negligible:
			m.volume[i] = 0
		default:
			m.volume[i] = share
			for f := range model.Faces {
				open[i][f] = m.sideOpen(h, model.Face(f), low, high)
			}
		}
	})
	m.Each(func(i int, c [3]int) {
		for a := range 3 {
			if c[a]+1 < m.N[a] {
				m.open[a][i] = min(open[i][2*a+1], open[i+m.Stride[a]][2*a])
			}
		}
	})
	m.outer = open
	m.closeThinBlocks(h)
	m.thicken()
}

// corners returns the two corners of a cell.
func (m *Medium) corners(c [3]int) (low, high r3.Vec) {
	from, to := [3]float64{}, [3]float64{}
	for a := range c {
		from[a], to[a] = float64(c[a])*m.H[a], float64(c[a]+1)*m.H[a]
	}
	if len(m.moved) > 0 {
		i := m.At(c[0], c[1], c[2])
		for a := range c {
			if x, ok := m.moved[face{a, i - m.Stride[a]}]; ok {
				from[a] = x
			}
			if x, ok := m.moved[face{a, i}]; ok {
				to[a] = x
			}
		}
	}
	return scene.Vec(from), scene.Vec(to)
}

// sideOpen returns the open share of one side of a cell, measured on a thin slice.
func (m *Medium) sideOpen(h *scene.Shape, f model.Face, low, high r3.Vec) float64 {
	from, to := scene.Components(low), scene.Components(high)
	a := f.Axis()
	thin := slice * m.H[a]
	if f.Far() {
		from[a] = to[a] - thin
	} else {
		to[a] = from[a] + thin
	}
	return h.Air(scene.Vec(from), scene.Vec(to)) / (m.Cells.Volume() * slice)
}

// closeThinBlocks closes faces where a block is thinner than a cell. A table top, for instance, lies
// inside cells, and must close the way from one centre to the next.
func (m *Medium) closeThinBlocks(h *scene.Shape) {
	for _, b := range h.Blocks {
		low, high := scene.Components(b.Min), scene.Components(b.Max)
		for a := range 3 {
			if high[a]-low[a] > m.H[a] {
				continue
			}
			layer := int(math.Floor((low[a]+high[a])/2/m.H[a] - 0.5)) // below the block
			m.Each(func(i int, c [3]int) {
				if c[a] == layer && c[a]+1 < m.N[a] {
					m.open[a][i] = max(0, min(m.open[a][i], 1-m.covered(a, c, low, high)))
				}
			})
		}
	}
}

// covered returns the share of a cell's cross-section normal to axis a that a box covers.
func (m *Medium) covered(a int, c [3]int, low, high [3]float64) float64 {
	share := 1.0
	for _, t := range [2]int{(a + 1) % 3, (a + 2) % 3} {
		from := max(low[t], float64(c[t])*m.H[t])
		to := min(high[t], float64(c[t]+1)*m.H[t])
		share *= max(0, to-from) / m.H[t]
	}
	return share
}

// thicken lends volume to cells that are small for their openings, since such cells would need a
// shorter time step. It takes the volume from neighbours, more of it through larger openings. The
// total volume and all openings stay the same. Lent volume moves by one cell towards the wall,
// where pressure hardly changes in that direction.
func (m *Medium) thicken() {
	gain := make([]float64, m.Size)
	m.Each(func(i int, _ [3]int) {
		if m.volume[i] == 0 || m.volume[i] == 1 {
			return
		}
		lack := m.opening(i)/wantedOpening - m.volume[i]
		if lack <= 0 {
			return
		}
		var sum float64
		m.openings(i, func(_ int, way float64) { sum += way })
		m.openings(i, func(next int, way float64) {
			loan := min(lack*way/sum, m.volume[next]/8)
			gain[i] += loan
			gain[next] -= loan
		})
	})
	for i, v := range gain {
		m.volume[i] += v
	}
	m.limitOpenings()
}

// openings calls f with each neighbour of a cell and a weight that grows with the opening to it and
// with its volume.
func (m *Medium) openings(i int, f func(next int, way float64)) {
	for a := range 3 {
		for _, next := range [2]int{i - m.Stride[a], i + m.Stride[a]} {
			if way := m.open[a][min(i, next)] * m.volume[next]; way > 0 {
				f(next, way*way)
			}
		}
	}
}

// limitOpenings narrows the openings of cells that are still far too small, such as slivers between
// two cuts.
func (m *Medium) limitOpenings() {
	keep := make([]float64, m.Size)
	for i, v := range m.volume {
		keep[i] = 1
		if sum := m.opening(i); v > 0 && sum > openingLimit*v {
			keep[i] = openingLimit * v / sum
		}
	}
	for a := range 3 {
		for i := range m.open[a] {
			if m.open[a][i] > 0 {
				m.open[a][i] *= min(keep[i], keep[i+m.Stride[a]])
			}
		}
	}
}

// opening returns the sum of a cell's open shares, 6 at most.
func (m *Medium) opening(i int) float64 {
	var sum float64
	for a := range 3 {
		sum += m.open[a][i]
		if i >= m.Stride[a] {
			sum += m.open[a][i-m.Stride[a]]
		}
	}
	return sum
}

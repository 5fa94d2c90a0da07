package lattice

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Layers returns how a block of so many cells along each axis goes along z for a place at a height in m,
// away from surfaces: the lowest layer of cells that it takes, and the share of each. The shares sum to 1.
func (m *Medium) Layers(height, top float64, width int) (lowest int, shares []float64) {
	shares = make([]float64, min(width, m.N[2]))
	z := height/m.H[2] - 0.5
	lowest = max(0, min(m.N[2]-len(shares), int(math.Ceil(z-float64(len(shares))/2))))
	weights(shares, z-float64(lowest), top*m.H[2])
	var sum float64
	for _, v := range shares {
		sum += v
	}
	for i := range shares {
		shares[i] /= sum
	}
	return lowest, shares
}

// Widest is how many cells along an axis an interpolation takes away from surfaces.
const Widest = 4

// Across is [Medium.Interpolation] over the columns of cells that stand in the layers of a place's
// height, if each was summed with the shares of [Medium.Layers] for the widest block. Each column is named by its lowest cell.
// Usable are the cells of columns that are whole cells of air throughout.
func (m *Medium) Across(p r3.Vec, top float64, usable []bool) ([]Weight, bool) {
	for _, width := range widths {
		cells, ok := m.blockAt(p, top, [3]int{width, width, Widest}, usable)
		if !ok {
			continue
		}
		columns := cells[:len(cells)/min(Widest, m.N[2])] // layer after layer, so the lowest one comes first
		for i, c := range cells[len(columns):] {
			columns[i%len(columns)].Share += c.Share
		}
		return columns, true
	}
	return nil, false
}

// Whole reports whether a cell is nothing but air.
func (m *Medium) Whole(i int) bool { return m.Capacity(i) >= 0.999 && m.Capacity(i) <= 1.001 }

package lattice

import (
	"math"

	"evenbass/model/wave/scene"
)

// WholeAir reports whether the plain stencil holds for a cell: the cell and all its faces and
// squares inside the bounding box are those of whole cells of air.
func (m *Medium) WholeAir(i int) bool {
	if m.Capacity(i) != 1 {
		return false
	}
	c := m.place(i)
	for a := range 3 {
		b, d := scene.OtherAxes(a)
		for _, side := range [2]int{0, -1} { // the faces above and below
			if at := c[a] + side; at < 0 || at+1 >= m.N[a] {
				continue
			}
			if !near(m.conductance(a, i+side*m.Stride[a])*m.H[a]*m.H[a], 1) {
				return false
			}
		}
		hb2, hd2 := m.H[b]*m.H[b], m.H[d]*m.H[d]
		whole := (hb2 + hd2) / (12 * hb2 * hd2)
		for corner := range 4 {
			ob, od := -(corner & 1), -(corner >> 1)
			if c[b]+ob < 0 || c[b]+ob+1 >= m.N[b] || c[d]+od < 0 || c[d]+od+1 >= m.N[d] {
				continue
			}
			if !near(m.diagonal(b, d, i+ob*m.Stride[b]+od*m.Stride[d])/whole, 1) {
				return false
			}
		}
	}
	return true
}

// near reports whether two numbers are equal but for rounding.
func near(a, b float64) bool { return math.Abs(a-b) < 1e-9 }

// Neighbours calls add with the weight in the Laplacian of every cell around i, 1/m². It calls add
// several times for some cells.
func (m *Medium) Neighbours(i int, add func(at int, weight float64)) {
	for a := range 3 {
		add(i+m.Stride[a], m.conductance(a, i))
		add(i-m.Stride[a], m.conductance(a, i-m.Stride[a]))
		b, c := scene.OtherAxes(a)
		for corner := range 4 {
			// The square whose lowest cell is low; i is one of its four cells.
			low := i - corner&1*m.Stride[b] - corner>>1*m.Stride[c]
			w := m.diagonal(b, c, low)
			if w == 0 {
				continue
			}
			along := i + (1-2*(corner&1))*m.Stride[b]
			across := i + (1-2*(corner>>1))*m.Stride[c]
			add(along, -w)
			add(across, -w)
			add(along+across-i, w)
		}
	}
}

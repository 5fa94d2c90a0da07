package wave

import "math"

// wholeAir reports whether the plain stencil holds for a cell: the cell and all its
// faces and squares inside the bounding box are those of whole cells of air.
func (m *medium) wholeAir(i int) bool {
	if m.capacity(i) != 1 {
		return false
	}
	c := m.place(i)
	for a := range 3 {
		b, d := others(a)
		for _, side := range [2]int{0, -1} { // the face above and the one below
			if at := c[a] + side; at < 0 || at+1 >= m.n[a] {
				continue
			}
			if !near(m.conductance(a, i+side*m.stride[a])*m.h[a]*m.h[a], 1) {
				return false
			}
		}
		hb2, hd2 := m.h[b]*m.h[b], m.h[d]*m.h[d]
		whole := (hb2 + hd2) / (12 * hb2 * hd2)
		for corner := range 4 {
			ob, od := -(corner & 1), -(corner >> 1)
			if c[b]+ob < 0 || c[b]+ob+1 >= m.n[b] || c[d]+od < 0 || c[d]+od+1 >= m.n[d] {
				continue
			}
			if !near(m.diagonal(b, d, i+ob*m.stride[b]+od*m.stride[d])/whole, 1) {
				return false
			}
		}
	}
	return true
}

func near(a, b float64) bool { return math.Abs(a-b) < 1e-9 }

// neighbours calls add with the weight in the Laplacian of every cell round i,
// 1/m², several times for some.
func (m *medium) neighbours(i int, add func(at int, weight float64)) {
	for a := range 3 {
		add(i+m.stride[a], m.conductance(a, i))
		add(i-m.stride[a], m.conductance(a, i-m.stride[a]))
		b, c := others(a)
		for corner := range 4 {
			// The square with its lower cell at low, in which i is one of four.
			low := i - corner&1*m.stride[b] - corner>>1*m.stride[c]
			w := m.diagonal(b, c, low)
			if w == 0 {
				continue
			}
			along := i + (1-2*(corner&1))*m.stride[b]
			across := i + (1-2*(corner>>1))*m.stride[c]
			add(along, -w)
			add(across, -w)
			add(along+across-i, w)
		}
	}
}

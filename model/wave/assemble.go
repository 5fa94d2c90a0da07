package wave

import "math"

// addCells sorts the cells into runs of even ones and odd ones, for (cT)² in m².
func (s *system) addCells(ct2 float64) {
	drag := s.dragByCell()
	s.odd.start, s.odd.faceStart = []int32{0}, []int32{0}
	s.each(func(i int, c [3]int) {
		if s.volume[i] == 0 {
			return
		}
		if s.even(i, c) {
			if n := len(s.rows); n > 0 && s.rows[n-1].to == int32(i) {
				s.rows[n-1].to++
			} else {
				s.rows = append(s.rows, span{int32(i), int32(i) + 1})
			}
			return
		}
		s.addOdd(i, c, ct2, drag[int32(i)])
	})
}

// even reports whether the plain stencil holds for a cell: itself and all its
// faces and squares inside the bounding box are those of whole cells of air.
func (s *system) even(i int, c [3]int) bool {
	if s.capacity(i) != 1 {
		return false
	}
	for a := range 3 {
		b, d := others(a)
		for _, side := range [2]int{0, -1} { // the face above and the one below
			if at := c[a] + side; at < 0 || at+1 >= s.n[a] {
				continue
			}
			if !near(s.conductance(a, i+side*s.stride[a])*s.h[a]*s.h[a], 1) {
				return false
			}
		}
		hb2, hd2 := s.h[b]*s.h[b], s.h[d]*s.h[d]
		whole := (hb2 + hd2) / (12 * hb2 * hd2)
		for corner := range 4 {
			ob, od := -(corner & 1), -(corner >> 1)
			if c[b]+ob < 0 || c[b]+ob+1 >= s.n[b] || c[d]+od < 0 || c[d]+od+1 >= s.n[d] {
				continue
			}
			if !near(s.diagonal(b, d, i+ob*s.stride[b]+od*s.stride[d])/whole, 1) {
				return false
			}
		}
	}
	return true
}

func near(a, b float64) bool { return math.Abs(a-b) < 1e-9 }

// faceEnd is a drag face as one of its cells sees it.
type faceEnd struct {
	face, axis int
	sign       float64 // +1 where flow along the axis comes in
}

func (s *system) dragByCell() map[int32][]faceEnd {
	ends := map[int32][]faceEnd{}
	for f := range s.drag.low {
		if f == 0 {
			continue
		}
		low, high := s.drag.low[f], s.drag.high[f]
		axis := 0
		for s.stride[axis] != int(high-low) {
			axis++
		}
		ends[low] = append(ends[low], faceEnd{f, axis, -1})
		ends[high] = append(ends[high], faceEnd{f, axis, +1})
	}
	return ends
}

// addOdd appends a cell with its own weights.
func (s *system) addOdd(i int, c [3]int, ct2 float64, drag []faceEnd) {
	weights := map[int]float64{}
	s.neighbours(i, func(at int, w float64) { weights[at] += w })
	capacity := s.late(i)
	scale := ct2 / capacity
	o := &s.odd
	self := 0.0
	for _, at := range s.order(i) {
		if w := weights[at]; w != 0 {
			o.near = append(o.near, int32(at))
			o.coef = append(o.coef, float32(scale*w))
			self -= scale * w
		}
	}
	for _, e := range drag {
		flow := s.step * s.medium.air.Density * s.medium.air.Speed * s.medium.air.Speed *
			s.drag.open[e.face] / (capacity * s.h[e.axis])
		o.face = append(o.face, int32(e.face))
		o.faceCoef = append(o.faceCoef, float32(e.sign*flow))
	}
	o.cells = append(o.cells, int32(i))
	o.self = append(o.self, float32(2+self))
	o.start = append(o.start, int32(len(o.near)))
	o.faceStart = append(o.faceStart, int32(len(o.face)))
}

// order lists the 18 places round a cell from the lowest index up, so that sums
// are made in one order on every run.
func (s *system) order(i int) []int {
	var list []int
	for dz := -1; dz <= 1; dz++ {
		for dy := -1; dy <= 1; dy++ {
			for dx := -1; dx <= 1; dx++ {
				if n := dx*dx + dy*dy + dz*dz; n == 1 || n == 2 {
					list = append(list, i+dx+dy*s.stride[1]+dz*s.stride[2])
				}
			}
		}
	}
	return list
}

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

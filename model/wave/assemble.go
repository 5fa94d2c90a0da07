package wave

import (
	"math"
	"math/bits"
)

// addCells sorts the cells into runs of even ones and groups of odd ones, for (cT)²
// in m². With vectors, a group is even only as a whole.
func (s *system) addCells(ct2 float64) {
	b := s.newOddBuilder(ct2)
	s.eachGroup(func(first, count int) {
		var even, odd uint8 // bit by bit
		for l := range count {
			switch i := first + l; {
			case s.volume[i] == 0:
			case s.even(i):
				even |= 1 << l
			default:
				odd |= 1 << l
			}
		}
		if s.vectors && (odd != 0 || bits.OnesCount8(even) < count) {
			even, odd = 0, even|odd
		}
		for l := range count {
			if even>>l&1 != 0 {
				s.addEven(int32(first + l))
			}
		}
		if odd != 0 {
			b.add(first, odd)
		}
	})
	s.odd.groups = newGroups(b.list, s.stride[2])
}

// addEven appends a cell to the runs.
func (s *system) addEven(i int32) {
	if n := len(s.rows); n > 0 && s.rows[n-1].to == i {
		s.rows[n-1].to++
	} else {
		s.rows = append(s.rows, span{i, i + 1})
	}
}

// even reports whether the plain stencil holds for a cell: itself and all its
// faces and squares inside the bounding box are those of whole cells of air.
func (s *system) even(i int) bool {
	if s.capacity(i) != 1 {
		return false
	}
	c := s.place(i)
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

// oddBuilder collects groups of odd cells.
type oddBuilder struct {
	*system
	scale  float64     // (cT)², m²
	number map[int]int // of each neighbour, by its offset
	known  map[oddKind]int32
	list   []group
}

func (s *system) newOddBuilder(ct2 float64) *oddBuilder {
	s.odd.stride = s.stride
	b := &oddBuilder{system: s, scale: ct2, number: map[int]int{}, known: map[oddKind]int32{}}
	for n, offset := range neighbours(s.stride) {
		b.number[offset] = n
	}
	return b
}

// add appends those cells of a group that have their bit in lanes.
func (b *oddBuilder) add(first int, lanes uint8) {
	k := oddKind{lanes: lanes}
	for left := lanes; left != 0; left &= left - 1 {
		l := bits.TrailingZeros8(left)
		b.weigh(&k, l, first+l)
	}
	o := &b.odd
	number, ok := b.known[k]
	if !ok {
		number = int32(len(o.kinds))
		b.known[k] = number
		o.kinds = append(o.kinds, k)
	}
	b.list = append(b.list, group{int32(first), number})
}

// weigh gives lane l the weights of cell i.
func (b *oddBuilder) weigh(k *oddKind, l, i int) {
	var sums [18]float64
	b.neighbours(i, func(at int, weight float64) {
		if weight != 0 {
			sums[b.number[at-i]] += weight
		}
	})
	late := b.late(i)
	self := 2.0
	for n, sum := range sums {
		weight := b.scale / late * sum
		if near(weight, 0) {
			continue // what rounding has left of nothing
		}
		k.near[n][l] = float32(weight)
		self -= float64(k.near[n][l])
		k.air |= 1 << l
	}
	k.self[l], k.gain[l] = notAbove(self), float32(1/late)
	for a := range 3 {
		k.drag = k.drag || b.hasDrag(a, i) || b.hasDrag(a, i-b.stride[a])
	}
	if lag := b.lag(i); lag > 0 {
		k.hot = true
		k.heat.b[l], k.heat.r[l] = float32(lag), float32(2*lag*b.lagging(i))
	}
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

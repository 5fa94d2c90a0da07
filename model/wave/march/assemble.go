package march

import (
	"math"
	"math/bits"

	"evenbass/model/wave/vector"
)

// addCells sorts the cells into runs of uniform ones and groups of irregular ones, for (cT)² in m².
// With vectors, runs are whole groups, ghosts included.
func (s *System) addCells(ct2 float64, classes []class) {
	b := s.newIrregularBuilder(ct2)
	s.eachGroup(s.rows, func(first int) {
		plain, other := s.split(first, classes)
		if s.vectors && plain != 0 {
			plain = 1<<vector.Lanes - 1
		}
		for ; plain != 0; plain &= plain - 1 {
			s.addUniform(int32(first + bits.TrailingZeros8(plain)))
		}
		if other != 0 {
			b.add(first, other)
		}
	})
	s.irregular.hot, s.irregular.drag, s.irregular.plain = b.hot.sorted(), b.drag.sorted(), b.plain.sorted()
}

// addUniform appends a cell to the runs.
func (s *System) addUniform(i int32) {
	if n := len(s.uniform); n > 0 && s.uniform[n-1].to == i {
		s.uniform[n-1].to++
	} else {
		s.uniform = append(s.uniform, span{i, i + 1})
	}
}

// irregularBuilder collects groups of irregular cells.
type irregularBuilder struct {
	*System
	scale  float64     // (cT)², m²
	number map[int]int // of each neighbour, by its offset in the arrays

	hot, drag, plain groupList[irregularKind] // as in irregularCells
}

// newIrregularBuilder returns a builder for (cT)² in m².
func (s *System) newIrregularBuilder(ct2 float64) *irregularBuilder {
	s.irregular.stride = s.Stride
	b := &irregularBuilder{System: s, scale: ct2, number: map[int]int{}}
	for n, offset := range neighbourOffsets(s.Stride) {
		b.number[offset] = n
	}
	return b
}

// add appends the cells of a group that have their bit in lanes.
func (b *irregularBuilder) add(first int, lanes uint8) {
	k := irregularKind{lanes: lanes}
	for left := lanes; left != 0; left &= left - 1 {
		l := bits.TrailingZeros8(left)
		b.weigh(&k, l, first+l)
	}
	switch {
	case k.hot:
		b.hot.add(first, k)
	case k.drag:
		b.drag.add(first, k)
	default:
		b.plain.add(first, k)
	}
}

// weigh gives lane l the weights of cell i.
func (b *irregularBuilder) weigh(k *irregularKind, l, i int) {
	var sums [18]float64
	b.Neighbours(i, func(at int, weight float64) {
		if weight != 0 {
			sums[b.number[at-i]] += weight
		}
	})
	compliance := b.EffectiveCompliance(i, b.Step)
	self := 2.0
	for n, sum := range sums {
		weight := b.scale / compliance * sum
		if math.Abs(weight) < 1e-9 {
			continue // left over from rounding
		}
		k.near[n][l] = float32(weight)
		self -= float64(k.near[n][l])
		k.air |= 1 << l
	}
	k.self[l], k.gain[l] = roundDown(self), float32(1/compliance)
	for a := range 3 {
		k.drag = k.drag || b.HasDrag(a, i) || b.HasDrag(a, i-b.Stride[a])
	}
	if lag := b.Lag(i, b.Step); lag > 0 {
		k.hot, k.drag = true, true
		k.heat.b[l], k.heat.r[l] = float32(lag), float32(2*lag*b.Lagging(i, b.Step))
	}
}

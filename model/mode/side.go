package mode

import (
	"math"
	"sync"
)

// sideTable holds what the pairs of one axis bring to a seat from all places on
// one side of it, by frequency, for the pairs that reach over wellApart. It is
// made when first asked for.
type sideTable struct {
	once   sync.Once
	values [][]complex128
}

// side is all places of one coordinate on the axis of the closed form: what they
// share of the sum over pairs.
type side struct {
	field    *Field
	axis     int     // of the closed form
	x        float64 // the places' coordinate on it, m
	mirrored bool    // the places are beyond the seat
	pairs    [][]pair
	table    [][]complex128
}

// side returns what all places with coordinate x on axis d share.
func (f *Field) side(d int, x float64) side {
	s := side{field: f, axis: d, x: x, mirrored: x > component(f.seat, d), pairs: f.engine.pairsAlong(d)}
	t := &f.sides[d][0]
	if s.mirrored {
		t = &f.sides[d][1]
	}
	t.once.Do(func() {
		t.values = make([][]complex128, len(s.pairs))
		for i, ps := range s.pairs {
			reach := f.engine.settings.within(ps, wellApart)
			t.values[i] = make([]complex128, len(reach))
			for j := range reach {
				t.values[i][j] = s.amplitude(i, &reach[j])
			}
		}
	})
	s.table = t.values
	return s
}

// amplitude returns the part of a pair's term that belongs to the seat.
func (s *side) amplitude(i int, p *pair) complex128 {
	f, d := s.field, s.axis
	psi := f.shapes[i][(d+1)%3][p.m] * f.shapes[i][(d+2)%3][p.n]
	return p.gain * psi * f.engine.axes[i][d].behind(p.kappa, component(f.seat, d), s.mirrored)
}

// terms is the sum over pairs at one frequency for places of one coordinate.
type terms struct {
	side  *side
	i     int    // frequency
	pairs []pair // those that count at this separation
	table []complex128
}

func (s *side) terms(i int) terms {
	separation := math.Abs(s.x - component(s.field.seat, s.axis))
	return terms{side: s, i: i, pairs: s.field.engine.settings.within(s.pairs[i], separation), table: s.table[i]}
}

// most returns how many modes of the second and of the third axis the pairs use.
func (t *terms) most() (second, third int) {
	m, n := int32(-1), int32(-1)
	for j := range t.pairs {
		m, n = max(m, t.pairs[j].m), max(n, t.pairs[j].n)
	}
	return int(m) + 1, int(n) + 1
}

// factor returns pair j's term without the source's shapes on the other two axes.
func (t *terms) factor(j int) complex128 {
	s, p := t.side, &t.pairs[j]
	before := s.field.engine.axes[t.i][s.axis].before(p.kappa, s.x, s.mirrored)
	if j < len(t.table) {
		return t.table[j] * before
	}
	return s.amplitude(t.i, p) * before
}

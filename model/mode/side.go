package mode

import "math"

// side is all places of one coordinate on the axis of the closed form: what they
// share of the sum over pairs.
type side struct {
	field    *Field
	axis     int     // of the closed form
	x        float64 // the places' coordinate on it, m
	mirrored bool    // the places are beyond the seat
	pairs    [][]pair
	waves    *waves
}

// side returns what all places with coordinate x on axis d share.
func (f *Field) side(d int, x float64) side {
	mirrored := x > component(f.seat, d)
	return side{field: f, axis: d, x: x, mirrored: mirrored, pairs: f.engine.pairsAlong(d), waves: f.engine.wavesAt(d, x, mirrored)}
}

// terms is the sum over pairs at one frequency for places of one coordinate.
type terms struct {
	pairs             []pair // those that count at this separation
	amplitudes, waves []complex128
	second, third     int // how many modes of these axes they use
}

func (s *side) terms(i int) terms {
	separation := math.Abs(s.x - component(s.field.seat, s.axis))
	t := terms{pairs: s.field.engine.settings.within(s.pairs[i], separation)}
	t.second, t.third = most(t.pairs)
	t.amplitudes, t.waves = s.amplitudes(i, &t), s.waves.first(i, len(t.pairs))
	return t
}

// amplitudes returns the parts of the pairs' terms that belong to the seat.
func (s *side) amplitudes(i int, t *terms) []complex128 {
	f, d := s.field, s.axis
	ax, seat := &f.engine.axes[i][d], component(f.seat, d)
	psiB, psiC := f.shapes[(d+1)%3].first(i, t.second), f.shapes[(d+2)%3].first(i, t.third)
	known := &f.sides[d][0]
	if s.mirrored {
		known = &f.sides[d][1]
	}
	return known.first(i, len(t.pairs), func(j int) complex128 {
		p := &t.pairs[j]
		return p.gain * (psiB[p.m] * psiC[p.n]) * ax.behind(p.kappa, seat, s.mirrored)
	})
}

// most returns how many modes of the second and of the third axis some pairs use.
func most(pairs []pair) (second, third int) {
	m, n := int32(-1), int32(-1)
	for j := range pairs {
		m, n = max(m, pairs[j].m), max(n, pairs[j].n)
	}
	return int(m) + 1, int(n) + 1
}

// factor returns pair j's term without the source's shapes on the other two axes.
func (t *terms) factor(j int) complex128 { return t.amplitudes[j] * t.waves[j] }

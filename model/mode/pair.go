package mode

import (
	"cmp"
	"math/cmplx"
	"slices"
	"sort"
	"sync"
)

// pair is one mode of each of two axes with the wave that they leave to the third.
type pair struct {
	kappa complex128 // wavenumber along the first axis, 1/m, Im κ ≤ 0
	gain  complex128 // what the field of this pair has in common for all places
	m, n  int32      // modes along the second and third axis
}

// pairTable holds the pairs of one axis, by frequency, ascending in γ = -Im κ. It
// is made when first asked for.
type pairTable struct {
	once   sync.Once
	values [][]pair
}

// pairsAlong returns the pairs that go with the closed form along an axis.
func (e *Engine) pairsAlong(d int) [][]pair {
	t := &e.pairs[d]
	t.once.Do(func() {
		t.values = make([][]pair, len(e.grid))
		parallel(len(e.grid), func(i int) { t.values[i] = e.pairsAt(i, d) })
	})
	return t.values
}

// pairsAt lists the pairs at one frequency whose γ is small enough to count.
func (e *Engine) pairsAt(i, d int) []pair {
	first, second, third := &e.axes[i][d], &e.axes[i][(d+1)%3], &e.axes[i][(d+2)%3]
	greatest := e.greatest()
	ps := make([]pair, 0, len(second.modes)*len(third.modes))
	for m := range second.modes {
		for n := range third.modes {
			a, b := &second.modes[m], &third.modes[n]
			kappa := downward(e.k[i]*e.k[i]-a.square-b.square, first.length)
			if -imag(kappa) <= greatest {
				gain := first.gain(kappa) / (a.norm * b.norm)
				ps = append(ps, pair{kappa: kappa, gain: gain, m: int32(m), n: int32(n)})
			}
		}
	}
	slices.SortFunc(ps, func(a, b pair) int {
		return cmp.Or(cmp.Compare(imag(b.kappa), imag(a.kappa)), cmp.Compare(a.m, b.m), cmp.Compare(a.n, b.n))
	})
	return slices.Clone(ps)
}

// downward returns the root of square with an imaginary part of zero or less. A
// root near zero is moved to 1e-5/length, where g differs by 1e-10: g is a
// function of κ², but its factors are not.
func downward(square complex128, length float64) complex128 {
	kappa := cmplx.Sqrt(square)
	if imag(kappa) > 0 {
		kappa = -kappa
	}
	if cmplx.Abs(kappa)*length < 1e-5 {
		kappa = cmplx.Rect(1e-5/length, -0.5)
	}
	return kappa
}

// within returns the pairs whose share at a separation in m is large enough for the settings.
func (s Settings) within(ps []pair, separation float64) []pair {
	limit := s.reach() / separation
	return ps[:sort.Search(len(ps), func(i int) bool { return -imag(ps[i].kappa) > limit })]
}

package optimize

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// Four rows are added the same way to the last bit with vectors and without, so that a
// seed finds the same layouts in any build.
func TestAdd4IsTheSameWithoutVectors(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(5, 6))
	for n := range 70 {
		draw := func() []float32 {
			v := make([]float32, n+1)[rng.IntN(2):]
			for i := range v {
				v[i] = float32(rng.NormFloat64())
			}
			return v
		}
		s := [4]nodeWeight{{rng.NormFloat64(), 0}, {rng.NormFloat64(), 1}, {rng.NormFloat64(), 2}, {rng.NormFloat64(), 3}}
		a, b, c, d, got := draw(), draw(), draw(), draw(), draw()[:n]
		want := slices.Clone(got)
		add4(got, &s, a, b, c, d)
		portableAdd4(want, &s, a, b, c, d)
		if !slices.Equal(got, want) {
			t.Fatalf("%d numbers: %v, want %v", n, got, want)
		}
	}
}

// BenchmarkCombine is one transfer of a free pair: 104 source nodes, 300 numbers each.
func BenchmarkCombine(b *testing.B) {
	shares := make([]nodeWeight, 104)
	for i := range shares {
		shares[i] = nodeWeight{1 / float64(1+i), i}
	}
	const n = 300
	rows, dst := make([]float32, n*len(shares)), make([]float32, n)
	for b.Loop() {
		combine(dst, shares, rows, n)
	}
}

package table

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"
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

// combine gives the sum of the rows added one by one in double precision.
func TestCombine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, stride := rapid.IntRange(1, 300).Draw(t, "length"), 301
		shares := make([]nodeWeight, rapid.IntRange(0, 11).Draw(t, "shares"))
		rows := make([]float32, 12*stride)
		for i := range rows {
			rows[i] = float32((i*7919)%101) / 101
		}
		dst, want := make([]float32, n), make([]float64, n)
		for i := range shares {
			shares[i] = nodeWeight{rapid.Float64Range(-2, 2).Draw(t, "weight"), rapid.IntRange(0, 11).Draw(t, "node")}
			for j := range want {
				want[j] += shares[i].weight * float64(rows[shares[i].node*stride+j])
			}
		}
		combine(dst, shares, rows, stride)
		for j := range want {
			if math.Abs(float64(dst[j])-want[j]) > 1e-4 {
				t.Fatalf("number %d is %v, want %v", j, dst[j], want[j])
			}
		}
	})
}

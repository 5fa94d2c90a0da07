package table

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// Rows are added the same way to the last bit with vectors and without, so that a seed finds the
// same layouts in any build: any length, any number of rows, those beyond the stack's included.
func TestCombineIsTheSameWithoutVectors(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(5, 6))
	const stride, nodes = 151, 12
	rows := make([]float32, nodes*stride+1)[1:]
	for i := range rows {
		rows[i] = float32(rng.NormFloat64())
	}
	for n := range stride {
		for _, many := range []int{0, 1, 2, 3, 4, 5, 7, 8, 11, rowsOnStack + 1 + n%4} {
			shares := make([]nodeWeight, many)
			for i := range shares {
				shares[i] = nodeWeight{rng.NormFloat64(), rng.IntN(nodes)}
			}
			got, want := slices.Repeat([]float32{7}, n+1), slices.Repeat([]float32{7}, n+1)
			combine(got[:n], shares, rows, stride)
			combinePortable(want[:n], shares, rows, stride)
			if !slices.Equal(got, want) {
				t.Fatalf("%d numbers of %d rows: %v, want %v", n, many, got, want)
			}
		}
	}
}

// BenchmarkCombine is what a free pair asks for: one transfer from 120 source nodes with 332 numbers
// each, the sources' numbers for a seat from 7 seat nodes of a column, and a column from 11 of 77 seat nodes.
func BenchmarkCombine(b *testing.B) {
	const numbers, nodes = 332, 120
	for _, c := range []struct {
		name            string
		rows, of, width int
	}{{"transfer", nodes, nodes, numbers}, {"seat", 7, 7, nodes * numbers}, {"column", 11, 77, nodes * numbers}} {
		b.Run(c.name, func(b *testing.B) {
			shares := make([]nodeWeight, c.rows)
			for i := range shares {
				shares[i] = nodeWeight{1 / float64(1+i), i * (c.of / c.rows)}
			}
			rows, dst := make([]float32, c.of*c.width), make([]float32, c.width)
			for b.Loop() {
				combine(dst, shares, rows, c.width)
			}
		})
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

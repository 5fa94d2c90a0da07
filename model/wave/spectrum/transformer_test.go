package spectrum

import (
	"math"
	"math/cmplx"
	"math/rand/v2"
	"slices"
	"testing"
)

// The fast transform against the plain sum, at phases between the bins.
func TestTransformer(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(1, 2))
	for _, length := range []int{1, 7, 300, 1023} {
		series := make([]float32, length)
		for i := range series {
			series[i] = float32(rng.NormFloat64())
		}
		var phases []complex128
		for range 40 {
			phases = append(phases, complex(rng.Float64()*math.Pi, 0))
		}
		phases = append(phases, 0, complex(math.Pi, 0))
		fast := newTransformer(phases, length)
		if fast.fft == nil {
			t.Fatal("real phases are to go the fast way")
		}
		got, want := make([]complex128, len(phases)), make([]complex128, len(phases))
		fast.transform(got, series)
		fast.sum(want, series)
		for i := range want {
			if cmplx.Abs(got[i]-want[i]) > 2e-6*math.Sqrt(float64(length)) {
				t.Errorf("%d values, phase %.4f: %v, want %v", length, real(phases[i]), got[i], want[i])
			}
		}
	}
}

// The blend of this build against the sum as it is written, at lengths that are no multiples of
// four.
func TestAddTimes(t *testing.T) {
	t.Parallel()
	for n := range 10 {
		x, y, want := make([]complex64, n), make([]complex64, n), make([]complex64, n)
		for i := range x {
			x[i], y[i] = complex(float32(i+1), float32(-i)), complex(2, float32(i))
			want[i] = y[i] + 0.25*x[i]
		}
		AddTimes(y, 0.25, x)
		if !slices.Equal(y, want) {
			t.Errorf("%d values: %v, want %v", n, y, want)
		}
	}
}

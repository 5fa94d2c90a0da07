package lattice

import (
	"math"
	"math/cmplx"
	"testing"
)

// Waves of every wavenumber in the band, in between four cells.
func TestWeights(t *testing.T) {
	t.Parallel()
	const kh = 0.55 // 300 Hz in cells of 0.1 m
	w := make([]float64, 4)
	for _, x := range []float64{1, 1.25, 1.5, 1.9} {
		weights(w, x, kh)
		for k := 0.0; k <= kh; k += kh / 50 {
			var got complex128
			for i, v := range w {
				got += complex(v, 0) * cmplx.Exp(complex(0, -k*float64(i)))
			}
			tol := 3.0 / 128 * math.Pow(kh, 4) / 8
			if k > 0.85*kh {
				tol *= 4
			}
			if e := cmplx.Abs(got - cmplx.Exp(complex(0, -k*x))); e > tol {
				t.Errorf("x %.2f, k %.3f: error %.2g, want below %.2g", x, k, e, tol)
			}
		}
	}
}

func TestWeightsHitTheCells(t *testing.T) {
	t.Parallel()
	for n := 1; n <= 4; n++ {
		w := make([]float64, n)
		for at := range n {
			weights(w, float64(at), 0.5)
			for i, v := range w {
				want := 0.0
				if i == at {
					want = 1
				}
				if math.Abs(v-want) > 1e-9 {
					t.Errorf("%d cells: weight %d at cell %d is %v", n, i, at, v)
				}
			}
		}
	}
}

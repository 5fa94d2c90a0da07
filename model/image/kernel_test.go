package image

import (
	"math"
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
)

// The closed form of the kernel's transform against quadrature, losses included.
func TestKernelTransform(t *testing.T) {
	t.Parallel()
	k := newKernel(6, 2, 16)
	for _, omega := range []complex128{0.01, 0.7, 1.5, 0.9 - 0.05i} {
		part := func(of func(complex128) float64) float64 {
			return quad.Fixed(func(x float64) float64 {
				return k.at(x) * of(cmplx.Exp(-1i*omega*complex(x, 0)))
			}, -3, 3, 200, nil, 0)
		}
		want := complex(part(func(v complex128) float64 { return real(v) }), part(func(v complex128) float64 { return imag(v) }))
		if got := k.transform(omega); cmplx.Abs(got-want) > 1e-12 {
			t.Errorf("at %v: %v, want %v", omega, got, want)
		}
	}
}

// One arrival at any time must come out as e^{-jωt} for all ω up to the top.
func TestKernelGivesPureDelay(t *testing.T) {
	t.Parallel()
	for a, tol := range map[Accuracy]float64{Quick: 3e-5, Exact: 1e-11} {
		m := methods[a]
		k := newKernel(m.width, m.oversampling, m.rows)
		weights := make([]float64, m.width)
		for u := 0.003; u < 1; u += 0.0497 {
			k.weights(weights, u)
			for share := 0.05; share <= 1; share += 0.05 {
				omega := share * math.Pi / m.oversampling
				var sum complex128
				for i, w := range weights {
					sum += complex(w, 0) * cmplx.Exp(complex(0, -omega*float64(i-k.lead())))
				}
				got := sum / k.transform(complex(omega, 0))
				if d := cmplx.Abs(got - cmplx.Exp(complex(0, -omega*u))); d > tol {
					t.Fatalf("accuracy %d: off by %.2g at fraction %.3f and %.2f of the top", a, d, u, share)
				}
			}
		}
	}
}

package spectrum

import (
	"math"
	"math/cmplx"
	"testing"

	"evenbass/model/wave/prediction"
)

// A record that ends early and is predicted has the spectrum of one that goes on until it is silent, term by term,
// with and without losses, in groups that are full and that are not.
func TestTransformPredicted(t *testing.T) {
	t.Parallel()
	// Two modes: 1 - Σ a[k] z^-k = Π (1 - 2 e^-d cos(w) z^-1 + e^-2d z^-2).
	const d1, w1, d2, w2 = 0.02, 0.4, 0.05, 1.1
	b1, c1, b2, c2 := 2*math.Exp(-d1)*math.Cos(w1), -math.Exp(-2*d1), 2*math.Exp(-d2)*math.Cos(w2), -math.Exp(-2*d2)
	for _, rest := range []prediction.Predictor{
		{b1 + b2, c1 + c2 - b1*b2, -b1*c2 - b2*c1, -c1 * c2},
		{b1, c1, 0}, // the first mode alone, and an odd number of terms
	} {
		const cells, length, silent = 21, 90, 1500
		frames := make([][]float32, silent)
		for n := range frames {
			frames[n] = make([]float32, cells)
			for c := range cells {
				x := math.Exp(-d1*float64(n)) * math.Cos(w1*float64(n)+float64(c))
				if len(rest) == 4 {
					x += 0.3 * math.Exp(-d2*float64(n)) * math.Sin(w2*float64(n)+float64(c*c))
				}
				frames[n][c] = float32(x)
			}
		}
		for _, loss := range []float64{0, 0.001} {
			phases, gain := []complex128{complex(0.1, -loss), complex(w1, -loss), complex(1, -loss), complex(2.5, -loss)}, []complex128{1, 2i, 1, -1}
			got := Transform(t.Context(), frames[:length], rest, phases, gain)
			for c := range cells {
				for i, phase := range phases {
					var want complex128
					for n, frame := range frames {
						want += gain[i] * complex(float64(frame[c]), 0) * cmplx.Exp(-1i*phase*complex(float64(n), 0))
					}
					if g := complex128(got[c*len(phases)+i]); cmplx.Abs(g-want) > 2e-4 {
						t.Errorf("%d terms, cell %d, phase %v: %v, want %v", len(rest), c, phase, g, want)
					}
				}
			}
		}
	}
}

package kaiser

import (
	"math"
	"testing"
)

// I0 at 1, 5 and 10 from Abramowitz & Stegun 1964, table 9.8 (from memory), and J0 = I0 of an
// imaginary argument from the standard library.
func TestI0OfRoot(t *testing.T) {
	for x, want := range map[float64]float64{0: 1, 1: 1.2660658777520084, 5: 27.239871823604442, 10: 2815.716628466254} {
		if got := I0OfRoot(x * x); math.Abs(got/want-1) > 1e-14 {
			t.Errorf("I0(%v) = %v, want %v", x, got, want)
		}
	}
	for _, x := range []float64{0.5, 2, 4} {
		if got, want := I0OfRoot(-x*x), math.J0(x); math.Abs(got-want) > 1e-12 {
			t.Errorf("I0(%vj) = %v, want %v", x, got, want)
		}
	}
}

// The window is 1 in the middle, even, and 1/I0(β) at its ends.
func TestWindow(t *testing.T) {
	const beta = 8.0
	if got := Window(beta, 0); got != 1 {
		t.Errorf("middle %v", got)
	}
	if a, b := Window(beta, 0.3), Window(beta, -0.3); a != b || a >= 1 {
		t.Errorf("%v and %v at ±0.3", a, b)
	}
	if got, want := Window(beta, 1), 1/I0OfRoot(beta*beta); math.Abs(got-want) > 1e-15 {
		t.Errorf("end %v, want %v", got, want)
	}
}

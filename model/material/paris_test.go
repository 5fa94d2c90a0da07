package material

import (
	"fmt"
	"math"
	"testing"

	"evenbass/model/material/materialtest"

	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"
)

// parisByQuadrature is the second way: the integral itself, Gauss-Legendre over
// u = cos θ in pieces that halve towards grazing, which follows any impedance.
func parisByQuadrature(zeta complex128) float64 {
	f := func(u float64) float64 { return 2 * u * AbsorptionAt(1/zeta, u) }
	var sum float64
	for high := 1.0; high > 1e-9; high /= 2 {
		sum += quad.Fixed(f, high/2, high, 40, nil, 0)
	}
	return sum
}

func TestRandomAbsorptionValues(t *testing.T) {
	t.Parallel()
	// London's closed form evaluated independently in twice the precision; the
	// first row is 8(3/2 - 2 ln 2). ζ = 18 and 50 are worked from the form for
	// real ζ, (8/ζ)(1 + 1/(1+ζ)) - (16/ζ²) ln(1+ζ).
	for _, c := range []struct {
		zeta complex128
		want float64
		tol  float64
	}{
		{1, 8 * (1.5 - 2*math.Ln2), 1e-14},
		{1, 0.9096451110, 1e-9},
		{2, 0.93888418, 1e-8},
		{5, 0.71994061, 1e-8},
		{10, 0.48906403, 1e-8},
		{18, 0.3224, 5e-5},
		{50, 0.13797357, 1e-8},
		{2 - 2i, 0.71752532, 1e-8},
		{2 + 2i, 0.71752532, 1e-8},
		{3 - 5i, 0.41505688, 1e-8},
		{1 - 10i, 0.06490261, 1e-8},
	} {
		materialtest.Near(t, fmt.Sprintf("RandomAbsorption(%v)", c.zeta), RandomAbsorption(c.zeta), c.want, c.tol)
	}
}

func TestRandomAbsorptionMaximum(t *testing.T) {
	t.Parallel()
	// Mechel, Formulas of Acoustics, sect. D.5: 0.951.
	materialtest.Near(t, "Mechel's maximum", MaxRandomAbsorption, 0.951, 5e-4)
	materialtest.Near(t, "the maximum", RandomAbsorption(ImpedanceOfMax), MaxRandomAbsorption, 1e-10)
	for _, step := range []float64{-0.3, -1e-3, 1e-3, 0.3} {
		if a := RandomAbsorption(complex(ImpedanceOfMax+step, 0)); a >= MaxRandomAbsorption {
			t.Errorf("absorption %.12f at %g beside the maximum is not below it", a, step)
		}
	}
}

func TestRandomAbsorptionIsTheIntegral(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		size := math.Pow(10, rapid.Float64Range(-4, 4).Draw(t, "lg|ζ|"))
		phase := rapid.Float64Range(-math.Pi/2, math.Pi/2).Draw(t, "phase")
		zeta := complex(size*math.Cos(phase), size*math.Sin(phase))
		got, want := RandomAbsorption(zeta), parisByQuadrature(zeta)
		if math.Abs(got-want) > 1e-11+1e-9*want {
			t.Fatalf("ζ = %v: closed form %.13g, integral %.13g", zeta, got, want)
		}
		if got < 0 || got > MaxRandomAbsorption {
			t.Fatalf("ζ = %v: absorption %v is not in 0..%v", zeta, got, MaxRandomAbsorption)
		}
	})
}

func TestRandomAbsorptionEdges(t *testing.T) {
	t.Parallel()
	inf := math.Inf(1)
	for _, zeta := range []complex128{0, complex(inf, 0), complex(0, inf), 3i, -3i, complex(1e200, 1e200), complex(1e160, 1)} {
		materialtest.Near(t, fmt.Sprintf("RandomAbsorption(%v)", zeta), RandomAbsorption(zeta), 0, 1e-100)
	}
	// The series and the closed form meet.
	for _, phase := range []float64{0, 0.7, 1.5} {
		z := func(size float64) complex128 { return complex(size*math.Cos(phase), -size*math.Sin(phase)) }
		below, above := RandomAbsorption(z(0.1-1e-13)), RandomAbsorption(z(0.1+1e-13))
		materialtest.Near(t, "the step at |ζ| = 0.1", above-below, 0, 1e-12)
	}
	// x -> 0 joins x = 0.
	materialtest.Near(t, "small x", RandomAbsorption(complex(4, 1e-12)), RandomAbsorption(4), 1e-15)
	// 8r/3 for a surface nearly without resistance, and 8/ζ for a hard one.
	materialtest.Near(t, "soft limit", RandomAbsorption(1e-7)/1e-7, 8./3, 1e-6)
	materialtest.Near(t, "hard limit", RandomAbsorption(1e9)*1e9, 8, 1e-6)
	if a := RandomAbsorption(complex(-0.34, -15.5)); a >= 0 {
		t.Errorf("an active surface absorbs %v", a)
	}
}

func TestReflectionOfRealImpedance(t *testing.T) {
	t.Parallel()
	// Allen & Berkley, JASA 65 (1979) 943: α = 1 - R²; the impedances follow.
	for _, c := range []struct{ alpha, factor, zeta float64 }{
		{0.05, 0.97467943, 77.98717738},
		{0.1, 0.94868330, 37.97366596},
		{0.2, 0.89442719, 17.94427191},
		{0.36, 0.8, 9},
		{0.5, 0.70710678, 5.82842712},
	} {
		beta := complex(1/c.zeta, 0)
		materialtest.Near(t, "R", real(ReflectionAt(beta, 1)), c.factor, 1e-8)
		materialtest.Near(t, "α", AbsorptionAt(beta, 1), c.alpha, 1e-9)
	}
	if r := ReflectionAt(0, math.Cos(1)); r != 1 {
		t.Errorf("a rigid surface reflects %v", r)
	}
	// ζ cos θ = 1 swallows the wave whole.
	materialtest.Near(t, "matched angle", AbsorptionAt(0.5, 0.5), 1, 1e-15)
	materialtest.Near(t, "grazing", AbsorptionAt(0.5, 0), 0, 1e-15)
}

func TestInverses(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		alpha := math.Pow(10, rapid.Float64Range(-8, math.Log10(0.95122)).Draw(t, "lg α"))
		zeta, ok := ImpedanceOfRandom(alpha)
		if !ok || zeta < ImpedanceOfMax {
			t.Fatalf("ImpedanceOfRandom(%v) = %v, %v", alpha, zeta, ok)
		}
		if back := RandomAbsorption(complex(zeta, 0)); math.Abs(back-alpha) > 1e-13 {
			t.Fatalf("α %v -> ζ %v -> α %v", alpha, zeta, back)
		}
		// The usual short cut reads a table row as 1 - R². A hard wall absorbs less than
		// that head on.
		if normal := AbsorptionAt(complex(1/zeta, 0), 1); normal > alpha && alpha < 0.9 {
			t.Fatalf("a hard surface takes %v head-on and only %v at random", normal, alpha)
		}
	})
}

func TestInverseOutsideTheRange(t *testing.T) {
	t.Parallel()
	inf := math.Inf(1)
	for _, c := range []struct {
		alpha  float64
		random float64
	}{
		{1.2, ImpedanceOfMax},
		{-0.1, inf},
		{math.NaN(), inf},
	} {
		if zeta, ok := ImpedanceOfRandom(c.alpha); zeta != c.random || ok {
			t.Errorf("ImpedanceOfRandom(%v) = %v, %v", c.alpha, zeta, ok)
		}
	}
	if zeta, ok := ImpedanceOfRandom(0); !math.IsInf(zeta, 1) || !ok {
		t.Errorf("a rigid wall has ζ = %v, %v", zeta, ok)
	}
	if zeta, ok := ImpedanceOfRandom(1e-300); math.Abs(zeta/8e300-1) > 1e-15 || !ok {
		t.Errorf("next to nothing has ζ = %v, %v", zeta, ok)
	}
	if zeta, ok := ImpedanceOfRandom(0.97); zeta != ImpedanceOfMax || ok {
		t.Errorf("ImpedanceOfRandom(0.97) = %v, %v: between the maximum and 1", zeta, ok)
	}
}

func ExampleRandomAbsorption() {
	fmt.Printf("%.4f\n", RandomAbsorption(50))     // a fairly hard wall
	fmt.Printf("%.4f\n", RandomAbsorption(1.5669)) // the most a surface can take
	fmt.Printf("%.4f\n", RandomAbsorption(1-10i))  // springy
	// Output:
	// 0.1380
	// 0.9512
	// 0.0649
}

func ExampleImpedanceOfRandom() {
	zeta, _ := ImpedanceOfRandom(0.10)
	fmt.Printf("ζ = %.1f, head-on it takes %.3f\n", zeta, AbsorptionAt(complex(1/zeta, 0), 1))
	// Output: ζ = 71.5, head-on it takes 0.054
}

func BenchmarkRandomAbsorption(b *testing.B) {
	for b.Loop() {
		RandomAbsorption(3 - 5i)
	}
}

func BenchmarkImpedanceOfRandom(b *testing.B) {
	for b.Loop() {
		ImpedanceOfRandom(0.1)
	}
}

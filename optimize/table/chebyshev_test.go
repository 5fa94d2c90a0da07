package table

import (
	"math"
	"math/cmplx"
	"testing"

	"evenbass/model"
	"evenbass/optimize/geometry"

	"pgregory.net/rapid"
)

// Barycentric interpolation on n nodes is exact for polynomials of degree n-1
// (Berrut and Trefethen 2004, section 3).
func TestAxisReproducesPolynomials(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 20).Draw(t, "nodes")
		lo := rapid.Float64Range(-3, 3).Draw(t, "lo")
		a := newAxis(geometry.Span{Lo: lo, Hi: lo + rapid.Float64Range(0.01, 4).Draw(t, "length")}, n)
		v := a.span.Lo + a.span.Length()*rapid.Float64Range(0, 1).Draw(t, "share")
		poly := func(x float64) float64 { // Legendre-like size: of order 1 on the span
			return math.Pow((2*x-a.span.Lo-a.span.Hi)/a.span.Length(), float64(n-1))
		}
		var sum float64
		for i, w := range a.weights(make([]float64, maxNodes), v) {
			sum += w * poly(a.nodes[i])
		}
		if math.Abs(sum-poly(v)) > 1e-9 {
			t.Fatalf("interpolated %v, is %v", sum, poly(v))
		}
	})
}

// NodesFor keeps what it promises for a plane wave, whatever the length, within
// the growth of interpolation against truncation (at most 1 + Lebesgue constant,
// here below 4 for 48 nodes; Trefethen, Approximation Theory, ch. 15).
func TestNodesForPlaneWave(t *testing.T) {
	const k = 2 * math.Pi * 315 / 343.2
	for _, length := range []float64{0.1, 0.5, 1, 2, 3, 5} {
		for _, tolerance := range []float64{1e-2, 3e-4, 1e-6} {
			a := newAxis(geometry.Span{Lo: 0, Hi: length}, NodesFor(k, length, tolerance))
			worst := 0.0
			for i := range 101 {
				v := length * float64(i) / 100
				var sum complex128
				for j, w := range a.weights(make([]float64, maxNodes), v) {
					sum += complex(w, 0) * cmplx.Exp(complex(0, -k*a.nodes[j]))
				}
				worst = max(worst, cmplx.Abs(sum-cmplx.Exp(complex(0, -k*v))))
			}
			if worst > 4*tolerance {
				t.Errorf("%v m to %.0e: %d nodes leave %.1e", length, tolerance, len(a.nodes), worst)
			}
		}
	}
}

// The direct sound from the table is that of model.FreeField, with lossy air as
// well.
func TestDirectIsFreeField(t *testing.T) {
	grid := model.DefaultGrid()
	air := model.AirAt(0)
	air.Loss = 0.01
	d := newDirect(grid, air, 6)
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.Float64Range(directPitch, 6).Draw(t, "distance")
		got := make([]complex128, len(grid))
		d.add(got, r)
		for i, want := range model.FreeField(nil, grid, air, r) {
			if cmplx.Abs(got[i]-want) > 1e-7*cmplx.Abs(want) {
				t.Fatalf("%v Hz at %v m: %v, want %v", grid[i], r, got[i], want)
			}
		}
	})
}

package mode

import (
	"math"
	"math/cmplx"
	"testing"

	"pgregory.net/rapid"
)

// green returns g between two places on the axis.
func (ax *axis) green(kappa complex128, x, xs float64) complex128 {
	kappa = downward(kappa*kappa, ax.length)
	mirrored := x > xs
	return ax.gain(kappa) * ax.before(kappa, x, mirrored) * ax.behind(kappa, xs, mirrored)
}

// A plane-wave duct of 5 m, source at 0.7 m, listener at 3.1 m: closed form,
// infinite image sum and 60 modes agree (check values, computed for this project).
func TestDuct(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		near, far complex128
		f         float64
		want      complex128
	}{
		{0.05, 0.05, 20, -2.0922296213 - 0.0590754639i},
		{0.05, 0.05, 34.3, -0.7942044358 + 5.2855253948i},
		{0.05, 0.05, 50, -0.1505898840 + 0.0358494271i},
		{0.05, 0.05, 68.6, -0.0498685091 + 3.7081567679i},
		{0.05, 0.05, 200, -0.3419349293 + 0.0553465482i},
		{0.05, 0.2, 34.3, -1.1210516029 + 2.0953083006i},
		{0.05, 0.2, 68.6, 0.1883928216 + 1.4958547107i},
		{0.02 + 0.05i, 0.02 + 0.05i, 34.3, 3.7916134417 + 1.8217259128i},
		{0.02 + 0.05i, 0.02 + 0.05i, 100, 0.6988221615 - 0.1014345888i},
	} {
		k := complex(2*math.Pi*c.f/343, 0)
		ax := axis{length: 5, near: k * c.near, far: k * c.far}
		if got := ax.green(k, 3.1, 0.7); cmplx.Abs(got-c.want) > 1e-10 {
			t.Errorf("β %v, %v at %v Hz: g = %.10f, want %.10f", c.near, c.far, c.f, got, c.want)
		}
	}
}

// The closed form must meet the three conditions that define it, whatever κ: the
// two walls (by a one-sided difference) and the jump of the slope by -1; and it
// must stay finite where e^{γL} has no float64.
func TestGreenDefinition(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		num := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		k := num("k", 0.3, 6)
		ax := axis{
			length: num("length", 2, 9),
			near:   complex(k*num("near", 0, 2), k*num("near'", -1, 1)),
			far:    complex(k*num("far", 0, 2), k*num("far'", -1, 1)),
		}
		kappa := downward(complex(num("κ²", -30, 30), -num("κ²'", 0.1, 9)), ax.length)
		xs := ax.length * num("xs", 0.2, 0.8)
		g := func(x float64) complex128 { return ax.green(kappa, x, xs) }
		slope := func(x, h float64) complex128 { // second order, towards the sign of h
			return (4*g(x+h) - g(x+2*h) - 3*g(x)) / complex(2*h, 0)
		}
		const h = 1e-4
		scale := (1 + cmplx.Abs(kappa)) * (cmplx.Abs(g(xs)) + 1/cmplx.Abs(kappa))
		for name, off := range map[string]complex128{
			"wall at 0": slope(0, h) - 1i*ax.near*g(0),
			"wall at L": slope(ax.length, -h) + 1i*ax.far*g(ax.length),
			"source":    slope(xs, h) - slope(xs, -h) + 1,
		} {
			if cmplx.Abs(off) > 1e-5*scale {
				t.Fatalf("%s: condition is off by %.2g", name, cmplx.Abs(off))
			}
		}
	})
	ax := axis{length: 20, near: 1, far: 0.3}
	if g := ax.green(-30i, 0.5, 0.9); cmplx.Abs(g-cmplx.Exp(-12)/60) > 1e-7*cmplx.Abs(g) {
		// Far from both walls a strongly evanescent g is e^{-γ|x-xs|}/2γ.
		t.Errorf("evanescent g = %v, want %v", g, cmplx.Exp(-12)/60)
	}
}

package lattice

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"evenbass/model"
	"evenbass/model/wave/scene"
)

// Powers known by hand: 2/3 round a rigid right angle, 4/5 round one of 135 degrees, 1 where
// nothing differs.
func TestPowerOfWedge(t *testing.T) {
	t.Parallel()
	for _, test := range []struct{ half, density, want float64 }{
		{math.Pi / 4, math.Inf(1), 2.0 / 3}, {3 * math.Pi / 8, math.Inf(1), 4.0 / 5},
		{math.Pi / 4, 1, 1}, {math.Pi / 4, 1e9, 2.0 / 3},
	} {
		if w := newWedge(2, r2.Vec{}, 0, 1, 0, test.half, test.density); math.Abs(w.power-test.want) > 1e-6 {
			t.Errorf("half angle %v, density %v: power %v, want %v", test.half, test.density, w.power, test.want)
		}
	}
}

// In air φ and ψ meet the equations of Cauchy and Riemann. Across a face of the wedge φ is
// continuous, and so is the flow.
func TestFlowRoundWedge(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		w := newWedge(2, r2.Vec{X: 0.3, Y: -0.2}, 0, 1, rapid.Float64Range(-3, 3).Draw(t, "middle"),
			rapid.Float64Range(0.2, 1.4).Draw(t, "half"), rapid.Float64Range(1, 60).Draw(t, "density"))
		at := func(r, theta float64) r2.Vec {
			return r2.Add(w.at, r2.Vec{X: r * math.Cos(theta+w.middle), Y: r * math.Sin(theta+w.middle)})
		}
		const d = 1e-5
		p := at(rapid.Float64Range(0.2, 2).Draw(t, "r"), rapid.Float64Range(w.half+0.01, math.Pi-0.01).Draw(t, "theta"))
		slope := func(f func(r2.Vec) float64, v r2.Vec) float64 { return (f(r2.Add(p, v)) - f(r2.Sub(p, v))) / (2 * d) }
		x, y := r2.Vec{X: d}, r2.Vec{Y: d}
		if a, b := slope(w.potential, x), slope(w.stream, y); math.Abs(a-b) > 1e-6 {
			t.Errorf("along x %v, want %v", a, b)
		}
		if a, b := slope(w.potential, y), -slope(w.stream, x); math.Abs(a-b) > 1e-6 {
			t.Errorf("along y %v, want %v", a, b)
		}
		in, out := at(1, w.half-1e-9), at(1, w.half+1e-9)
		if a, b := w.potential(in), w.potential(out); math.Abs(a-b) > 1e-6 {
			t.Errorf("φ is %v inside and %v outside", a, b)
		}
		if a, b := w.stream(in), w.stream(out); math.Abs(a-b) > 1e-6 {
			t.Errorf("ψ is %v inside and %v outside", a, b)
		}
	})
}

// By hand: the face that ends in a rigid right angle between cells has the flow h^⅔ sin 60°, and its
// two cells differ by (h/√2)^⅔ sin 60°.
func TestCorrectionAtRightAngle(t *testing.T) {
	t.Parallel()
	const h = 0.1
	w := newWedge(2, r2.Vec{X: 1, Y: 1}, 0, 1, math.Pi/4, math.Pi/4, math.Inf(1)) // the wedge is at x > 1, y > 1
	got := w.correction(r2.Vec{X: 0.95, Y: 0.95}, r2.Vec{X: h}, r2.Vec{Y: h / 2})
	if want := math.Cbrt(2); math.Abs(got-want) > 1e-9 {
		t.Errorf("correction %v, want %v", got, want)
	}
	if got := w.correction(r2.Vec{X: 0.65, Y: 0.95}, r2.Vec{X: h}, r2.Vec{Y: h / 2}); got != 1 {
		t.Errorf("correction %v three cells away", got)
	}
}

// A block against two walls has one edge in the air, one on a table has eight in all, a block in the
// outline's own corner none. Only faces near those edges change.
func TestEdgesThatJutOut(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		name     string
		min, max r3.Vec
		want     int // faces
	}{
		{"none", r3.Vec{}, r3.Vec{}, 0},
		// At each height the two faces that end in the edge, and four more within reach.
		{"upright in a corner, to the ceiling", r3.Vec{}, r3.Vec{X: 0.4, Y: 0.4, Z: 1}, 10 * 6},
	} {
		s := scene.Scene{Size: r3.Vec{X: 2, Y: 1.5, Z: 1}, Air: model.AirAt(0)}
		if test.max != test.min {
			s.Blocks = []scene.Solid{{Min: test.min, Max: test.max}}
		}
		m := New(&s, 0.1)
		count := 0
		for a := range m.open {
			for _, open := range m.open[a] {
				if math.Abs(open-1) > 1e-9 && open > 0 {
					count++
				}
			}
		}
		if count != test.want {
			t.Errorf("%s: %d faces changed, want %d", test.name, count, test.want)
		}
	}
}

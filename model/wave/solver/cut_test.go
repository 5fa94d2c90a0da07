package solver

import (
	"fmt"
	"math"
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/mode/modetest"
	"evenbass/model/wave/scene"
	"evenbass/model/wave/wavetest"
)

// turned returns a box room that stands in a larger bounding box, turned by an
// angle about its corner at base, and the map from its own coordinates.
func turned(box model.Box, base r2.Vec, angle float64, bounds r3.Vec) (scene.Scene, func(r3.Vec) r3.Vec) {
	sin, cos := math.Sincos(angle)
	place := func(p r3.Vec) r3.Vec {
		return r3.Vec{X: base.X + cos*p.X - sin*p.Y, Y: base.Y + sin*p.X + cos*p.Y, Z: p.Z}
	}
	s := scene.Scene{Size: bounds, Air: box.Air}
	for _, c := range []r3.Vec{{}, {X: box.Size.X}, {X: box.Size.X, Y: box.Size.Y}, {Y: box.Size.Y}} {
		p := place(c)
		s.Outline = append(s.Outline, r2.Vec{X: p.X, Y: p.Y})
	}
	for _, f := range []model.Face{model.Left, model.Back, model.Right, model.Front} { // edge by edge
		w, _ := scene.ExactBranches(box.Walls[f], box.Air)
		s.Edges = append(s.Edges, w)
	}
	s.Walls[model.Floor], _ = scene.ExactBranches(box.Walls[model.Floor], box.Air)
	// The ceiling is a slope without rise, off the grid too.
	lid, _ := scene.ExactBranches(box.Walls[model.Ceiling], box.Air)
	s.Slopes = []scene.Slope{{Height: box.Size.Z, Surface: lid}}
	return s, place
}

// A box that does not fit the grid, nor stand square to it, is still that box: the
// exact modal field, walls and all.
func TestCutBox(t *testing.T) {
	t.Parallel()
	box := model.Box{Size: r3.Vec{X: 4.33, Y: 3.21, Z: 2.37}, Air: model.AirAt(0)}
	for i := range box.Walls {
		box.Walls[i] = model.Plain([]complex128{0.04, 0.06, 0.03, 0.05, 0.02, 0.05}[i])
	}
	grid := model.NewGrid(20, 300, 24, 3)
	seat, place := r3.Vec{X: 2.7, Y: 1.6, Z: 1.2}, r3.Vec{X: 0.8, Y: 0.9, Z: 1.0}
	field := modetest.Field(t, box, grid, seat)
	want := field.Transfer(nil, place)
	for _, test := range []struct {
		angle  float64
		base   r2.Vec
		bounds r3.Vec
		tol    [3]float64 // dB rms to 120, 200, 300 Hz
	}{
		{0, r2.Vec{X: 0.037, Y: 0.061}, r3.Vec{X: 4.5, Y: 3.4, Z: 2.5}, [3]float64{0.04, 0.08, 0.2}},
		{0.4, r2.Vec{X: 1.3, Y: 0.02}, r3.Vec{X: 5.4, Y: 4.8, Z: 2.5}, [3]float64{0.04, 0.08, 0.2}},
	} {
		t.Run(fmt.Sprintf("%g rad", test.angle), func(t *testing.T) {
			s, move := turned(box, test.base, test.angle, test.bounds)
			got := solve(t, s, grid, 0.1, move(place), move(seat))
			for i, limit := range []float64{120, 200, 300} {
				rms := wavetest.LevelError(grid, got, want, limit)
				if rms > test.tol[i] {
					t.Errorf("%.3f dB rms to %g Hz, want %.2f", rms, limit, test.tol[i])
				}
			}
		})
	}
}

// A room under a roof at 45°, from height L at the front to nothing at the back,
// has closed modes: those of the square of side L that are even about its
// diagonal,
//
//	cos(mπx/L) cos(nπz/L) + (-1)^(m+n) cos(nπx/L) cos(mπz/L)
//
// (Lamé 1852 for the right-angled isosceles triangle).
func TestRoof(t *testing.T) {
	t.Parallel()
	const l, width = 3.0, 2.6
	air := model.AirAt(0)
	air.Loss = 0.03
	s := scene.Scene{
		Size: r3.Vec{X: l, Y: width, Z: l}, Air: air,
		Slopes: []scene.Slope{{Height: l, Rise: r2.Vec{X: -1}}},
	}
	grid := model.NewGrid(30, 300, 24, 4)
	seat, place := r3.Vec{X: 0.9, Y: 1.6, Z: 1.1}, r3.Vec{X: 0.5, Y: 0.7, Z: 0.6}
	got := solve(t, s, grid, 0.1, place, seat)
	want := roofField(grid, air, l, width, place, seat)
	for i, limit := range []float64{120, 200, 300} {
		rms := wavetest.LevelError(grid, got, want, limit)
		if tol := [3]float64{0.02, 0.05, 0.1}[i]; rms > tol {
			t.Errorf("%.3f dB rms to %g Hz, want %.2f", rms, limit, tol)
		}
	}
}

// roofField sums the modes of the room under a roof to some 3 kHz.
func roofField(grid model.Grid, air model.Air, l, width float64, a, b r3.Vec) []complex128 {
	const most = 50
	shape := func(m, n int, p r3.Vec) float64 {
		sign := 1.0
		if (m+n)%2 == 1 {
			sign = -1
		}
		x, z := math.Pi*p.X/l, math.Pi*p.Z/l
		return math.Cos(float64(m)*x)*math.Cos(float64(n)*z) + sign*math.Cos(float64(n)*x)*math.Cos(float64(m)*z)
	}
	sum := make([]complex128, len(grid))
	for m := range most {
		for n := 0; n <= m; n++ {
			// The square of the shape over the triangle.
			norm := l * l / 4
			if n == 0 {
				norm = l * l / 2
			}
			if m == n {
				norm *= 2
			}
			if m == 0 {
				norm = 2 * l * l
			}
			for q := range most {
				y := width / 2
				if q == 0 {
					y = width
				}
				k2 := math.Pi * math.Pi * (float64(m*m+n*n)/(l*l) + float64(q*q)/(width*width))
				f := shape(m, n, a) * shape(m, n, b) / (norm * y) *
					math.Cos(float64(q)*math.Pi*a.Y/width) * math.Cos(float64(q)*math.Pi*b.Y/width)
				for i, hz := range grid {
					k := air.Wavenumber(hz)
					sum[i] += complex(f, 0) / (complex(k2, 0) - k*k)
				}
			}
		}
	}
	for i, hz := range grid {
		sum[i] *= complex(0, 2*math.Pi*hz*air.Density)
	}
	return sum
}

// The sum of the modes itself, against the room's stiffness at low frequency:
// p/Q = ρc²/(jωV).
func TestRoofField(t *testing.T) {
	t.Parallel()
	air := model.AirAt(0)
	got := roofField(model.Grid{0.5}, air, 3, 2.6, r3.Vec{X: 0.9, Y: 1.6, Z: 1.1}, r3.Vec{X: 0.5, Y: 0.7, Z: 0.6})[0]
	want := air.Density * air.Speed * air.Speed / (2 * math.Pi * 0.5 * 3 * 3 / 2 * 2.6)
	if math.Abs(cmplx.Abs(got)/want-1) > 1e-3 {
		t.Errorf("|p/Q| = %.4g, want %.4g", cmplx.Abs(got), want)
	}
}

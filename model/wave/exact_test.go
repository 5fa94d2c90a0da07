package wave

import (
	"fmt"
	"math"
	"math/cmplx"
	"testing"

	"evenbass/model"
	"evenbass/model/material/fit"

	"gonum.org/v1/gonum/spatial/r3"
)

// The room of checks D2 and D3: 5 x 4 x 2.5 m, c = 343 m/s, ρ = 1.21 kg/m³,
// source (0.8, 1.1, 0.6), seat (3.3, 2.3, 1.2).
var (
	checkSize   = r3.Vec{X: 5, Y: 4, Z: 2.5}
	checkAir    = model.Air{Speed: 343, Density: 1.21}
	checkSource = r3.Vec{X: 0.8, Y: 1.1, Z: 0.6}
	checkSeat   = r3.Vec{X: 3.3, Y: 2.3, Z: 1.2}
	checkGrid   = model.Grid{20, 34.3, 50, 68.6, 100, 150, 200, 300}
)

// around returns the zone that holds one place.
func around(p r3.Vec) []model.Block { return []model.Block{{Min: p, Max: p}} }

// solve returns the transfer of a scene from source to seat.
func solve(t *testing.T, s Scene, grid model.Grid, cell float64, source, seat r3.Vec) []complex128 {
	t.Helper()
	return solveWith(t, s, grid, Settings{Cell: cell}, source, seat)
}

// solveWith is solve with what the settings say of the run.
func solveWith(t *testing.T, s Scene, grid model.Grid, set Settings, source, seat r3.Vec) []complex128 {
	t.Helper()
	set.Zones = around(source)
	e, err := New(s, grid, set)
	if err != nil {
		t.Fatal(err)
	}
	f, err := e.Run(t.Context(), seat)
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range f.Warnings() {
		t.Error(w)
	}
	return f.Transfer(nil, source)
}

// level returns 20 lg(4πd|G|), the level re the free field at the same distance.
func level(p complex128, f, d float64, air model.Air) float64 {
	return 20 * math.Log10(4*math.Pi*d*cmplx.Abs(p)/(2*math.Pi*f*air.Density))
}

func resistiveBox(air model.Air, betas [6]float64) Scene {
	s := Scene{Size: checkSize, Air: air}
	for i, beta := range betas {
		s.Walls[i] = Resistive(beta, air)
	}
	return s
}

// Exact levels of the box with even, locally reacting walls: eigenfunction
// expansion over two axes with the closed Green function along the third (Morse
// and Ingard 1968, chapter 9), computed with two different axes that agree to
// 2e-8; with rigid walls and lossy air also by the image sum.
func TestExactLevels(t *testing.T) {
	t.Parallel()
	lossy := checkAir
	lossy.Loss = 0.05
	even := func(b float64) [6]float64 { return [6]float64{b, b, b, b, b, b} }
	d := r3.Norm(r3.Sub(checkSource, checkSeat))
	for _, test := range []struct {
		name  string
		scene Scene
		want  []float64
	}{
		{
			"rigid walls, lossy air", resistiveBox(lossy, even(0)),
			[]float64{18.0413093, 23.8145709, 5.2631373, 6.5956212, -11.7543404, -3.2588942, 1.1077109, 0.4312293},
		},
		{
			"beta 0.01", resistiveBox(checkAir, even(0.01)),
			[]float64{18.072041, 33.204328, 6.651014, 22.564135, -2.362644, 1.384588, 10.046085, 18.685488},
		},
		{
			"beta 0.05", resistiveBox(checkAir, even(0.05)),
			[]float64{17.790261, 19.616035, 4.355629, 8.514937, -5.093532, -0.184615, 7.578724, 6.046601},
		},
		{
			"beta 0.02 to 0.2", resistiveBox(checkAir, [6]float64{0.02, 0.1, 0.03, 0.03, 0.01, 0.2}),
			[]float64{17.581490, 17.274808, 3.955174, 7.036938, -8.049677, 4.283750, 7.196342, 3.854948},
		},
	} {
		t.Run(test.name, func(t *testing.T) {
			got := solve(t, test.scene, checkGrid, 0.125, checkSource, checkSeat)
			for i, f := range checkGrid {
				tol := 0.06 // dB, up to 150 Hz
				switch {
				case f > 250:
					tol = 0.4
				case f > 150:
					tol = 0.08
				}
				if l := level(got[i], f, d, checkAir); math.Abs(l-test.want[i]) > tol {
					t.Errorf("%g Hz: %.3f dB, want %.3f", f, l, test.want[i])
				}
			}
		})
	}
}

// Springy walls, β = 0.02+0.05j at every frequency (same source). Branches have
// no such wall for all frequencies, but one for each: resistance and spring.
func TestExactLevelsSpringy(t *testing.T) {
	t.Parallel()
	d := r3.Norm(r3.Sub(checkSource, checkSeat))
	for _, test := range []struct{ f, want, cell, tol float64 }{
		{34.3, 15.062268, 0.16, 0.15},
		{68.6, 7.732196, 0.16, 0.15},
		{100, -6.036835, 0.16, 0.15},
		{150, -3.445348, 0.125, 0.1},
		{200, 10.501715, 0.125, 0.2},
		{300, 14.051872, DefaultCell, 0.5},
	} {
		f, want := test.f, test.want
		t.Run(fmt.Sprintf("%g Hz", f), func(t *testing.T) {
			z := complex(checkAir.Impedance(), 0) / (0.02 + 0.05i)
			wall := fit.Branches{Air: checkAir, List: []fit.Branch{
				{Resistance: real(z), Stiffness: -imag(z) * 2 * math.Pi * f},
			}}
			s := Scene{Size: checkSize, Air: checkAir}
			for i := range s.Walls {
				s.Walls[i] = wall
			}
			// Where the spring is stiff the lowest tones ring for long. They are far off.
			e, err := New(s, model.Grid{f, 300}, Settings{Cell: test.cell, Zones: around(checkSource), Longest: 1.5})
			if err != nil {
				t.Fatal(err)
			}
			field, err := e.Field(checkSeat)
			if err != nil {
				t.Fatal(err)
			}
			got := level(field.Transfer(nil, checkSource)[0], f, d, checkAir)
			t.Logf("%.3f dB, want %.3f", got, want)
			if math.Abs(got-want) > test.tol {
				t.Errorf("%.3f dB, want %.3f", got, want)
			}
		})
	}
}

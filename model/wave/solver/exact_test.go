package solver

import (
	"fmt"
	"math"
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material/fit"
	"evenbass/model/wave/scene"
	"evenbass/model/wave/wavetest"
)

// solve returns the transfer of a scene from source to seat.
func solve(t *testing.T, s scene.Scene, grid model.Grid, cell float64, source, seat r3.Vec) []complex128 {
	t.Helper()
	return solveWith(t, s, grid, Settings{Cell: cell}, source, seat)
}

// solveWith is solve with what the settings say of the run.
func solveWith(t *testing.T, s scene.Scene, grid model.Grid, set Settings, source, seat r3.Vec) []complex128 {
	t.Helper()
	set.Zones = wavetest.Around(source)
	e, err := New(s, grid, set)
	if err != nil {
		t.Fatal(err)
	}
	return wavetest.Transfer(t, e, source, seat)
}

// level returns 20 lg(4πd|G|), the level re the free field at the same distance.
func level(p complex128, f, d float64, air model.Air) float64 {
	return 20 * math.Log10(4*math.Pi*d*cmplx.Abs(p)/(2*math.Pi*f*air.Density))
}

// Exact levels of the box with even, locally reacting walls: eigenfunction
// expansion over two axes with the closed Green function along the third (Morse
// and Ingard 1968, chapter 9), computed with two different axes that agree to
// 2e-8; with rigid walls and lossy air also by the image sum.
func TestExactLevels(t *testing.T) {
	t.Parallel()
	lossy := wavetest.CheckAir
	lossy.Loss = 0.05
	even := func(b float64) [6]float64 { return [6]float64{b, b, b, b, b, b} }
	d := r3.Norm(r3.Sub(wavetest.CheckSource, wavetest.CheckSeat))
	for _, test := range []struct {
		name  string
		scene scene.Scene
		want  []float64
	}{
		{
			"rigid walls, lossy air", wavetest.ResistiveBox(lossy, even(0)),
			[]float64{18.0413093, 23.8145709, 5.2631373, 6.5956212, -11.7543404, -3.2588942, 1.1077109, 0.4312293},
		},
		{
			"beta 0.01", wavetest.ResistiveBox(wavetest.CheckAir, even(0.01)),
			[]float64{18.072041, 33.204328, 6.651014, 22.564135, -2.362644, 1.384588, 10.046085, 18.685488},
		},
		{
			"beta 0.05", wavetest.ResistiveBox(wavetest.CheckAir, even(0.05)),
			[]float64{17.790261, 19.616035, 4.355629, 8.514937, -5.093532, -0.184615, 7.578724, 6.046601},
		},
		{
			"beta 0.02 to 0.2", wavetest.ResistiveBox(wavetest.CheckAir, [6]float64{0.02, 0.1, 0.03, 0.03, 0.01, 0.2}),
			[]float64{17.581490, 17.274808, 3.955174, 7.036938, -8.049677, 4.283750, 7.196342, 3.854948},
		},
	} {
		t.Run(test.name, func(t *testing.T) {
			got := solve(t, test.scene, wavetest.CheckGrid, 0.125, wavetest.CheckSource, wavetest.CheckSeat)
			for i, f := range wavetest.CheckGrid {
				tol := 0.06 // dB, up to 150 Hz
				switch {
				case f > 250:
					tol = 0.4
				case f > 150:
					tol = 0.08
				}
				if l := level(got[i], f, d, wavetest.CheckAir); math.Abs(l-test.want[i]) > tol {
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
	d := r3.Norm(r3.Sub(wavetest.CheckSource, wavetest.CheckSeat))
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
			z := complex(wavetest.CheckAir.Impedance(), 0) / (0.02 + 0.05i)
			wall := fit.Branches{Air: wavetest.CheckAir, List: []fit.Branch{
				{Resistance: real(z), Stiffness: -imag(z) * 2 * math.Pi * f},
			}}
			s := scene.Scene{Size: wavetest.CheckSize, Air: wavetest.CheckAir}
			for i := range s.Walls {
				s.Walls[i] = wall
			}
			// Where the spring is stiff the lowest tones ring for long. They are far off.
			e, err := New(s, model.Grid{f, 300}, Settings{Cell: test.cell, Zones: wavetest.Around(wavetest.CheckSource), Longest: 1.5})
			if err != nil {
				t.Fatal(err)
			}
			field, err := e.Field(t.Context(), wavetest.CheckSeat)
			if err != nil {
				t.Fatal(err)
			}
			got := level(field.Transfer(nil, wavetest.CheckSource)[0], f, d, wavetest.CheckAir)
			t.Logf("%.3f dB, want %.3f", got, want)
			if math.Abs(got-want) > test.tol {
				t.Errorf("%.3f dB, want %.3f", got, want)
			}
		})
	}
}

package solver

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/mode/modetest"
	"evenbass/model/trust"
	"evenbass/model/wave/wavetest"
)

// The error falls with the cell by the order that theory gives this scheme: the fourth
// between hard walls, since 19 points and the corrected frequency leave an error of
// (kh)⁴ only; the second where walls absorb, whose pressure is taken half a cell off.
// The exact fields are those of package mode, which is tested against published pressures.
func TestConvergence(t *testing.T) {
	t.Parallel()
	cells := []float64{0.175, 0.14, 0.1, 0.07} // whole in every side of the room
	lossy := model.AirAt(0)
	lossy.Loss = 0.04
	for _, test := range []struct {
		name  string
		air   model.Air
		beta  complex128
		order float64
	}{
		{"hard walls, lossy air", lossy, 0, 3.5},
		{"walls of 0.06", model.AirAt(0), 0.06, 1.8},
	} {
		box := model.Box{Size: r3.Vec{X: 2.8, Y: 2.1, Z: 1.4}, Air: test.air}
		for i := range box.Walls {
			box.Walls[i] = model.Plain(test.beta)
		}
		grid := model.NewGrid(30, 300, 24, 3)
		seat, place := r3.Vec{X: 1.75, Y: 1.3, Z: 0.95}, r3.Vec{X: 0.55, Y: 0.65, Z: 0.6}
		field := modetest.Field(t, box, grid, seat)
		scene := wavetest.BoxScene(t, box)
		want := field.Transfer(nil, place)
		var errors []float64
		limits := []float64{120, 200, 300}
		for _, cell := range cells {
			got := solve(t, scene, grid, cell, place, seat)
			errors = append(errors, wavetest.RelativeError(got, want))
			var off []float64 // dB rms
			for _, to := range limits {
				off = append(off, wavetest.LevelError(grid, got, want, to))
			}
			t.Logf("%s, cells of %.2f m: %.4f of the pressure; %.3f dB rms to %v Hz", test.name, cell, errors[len(errors)-1], off, limits)
			if cell == 0.1 && test.beta != 0 {
				trust.Seen(t, "`wave`, impedance walls, 0.1 m cells", "%s dB to 120 / 200 / 300 Hz", trust.Figures(1, off...))
			}
		}
		const last = 2 // beyond, single precision is what is left between hard walls
		order := math.Log(errors[0]/errors[last]) / math.Log(cells[0]/cells[last])
		t.Logf("%s: order %.2f", test.name, order)
		if order < test.order {
			t.Errorf("%s: errors %.4f over cells of %v m fall with the power %.2f, want %.1f or more", test.name, errors, cells, order, test.order)
		}
	}
}

// The run against the exact modal field of the box, unsmoothed, at several places.
func TestAgainstExactField(t *testing.T) {
	t.Parallel()
	air := model.AirAt(0)
	box := model.Box{Size: r3.Vec{X: 4.7, Y: 3.4, Z: 2.45}, Air: air}
	for i := range box.Walls {
		box.Walls[i] = model.Plain([]complex128{0.04, 0.06, 0.03, 0.03, 0.02, 0.05}[i])
	}
	grid := model.NewGrid(20, 300, 24, 3)
	exact := modetest.Engine(t, box, grid)
	scene := wavetest.BoxScene(t, box)
	e, err := New(scene, grid, Settings{
		Zones: []model.Block{{Min: r3.Vec{X: 0.3, Y: 0.4, Z: 0.9}, Max: r3.Vec{X: 1.5, Y: 3, Z: 1.2}}},
	})
	if err != nil {
		t.Fatal(err)
	}
	seat := r3.Vec{X: 2.93, Y: 1.7, Z: 1.2}
	got, err := e.Field(t.Context(), seat)
	if err != nil {
		t.Fatal(err)
	}
	want, err := exact.Field(t.Context(), seat)
	if err != nil {
		t.Fatal(err)
	}
	for _, place := range []r3.Vec{{X: 0.37, Y: 0.83, Z: 1.05}, {X: 0.81, Y: 2.57, Z: 0.95}, {X: 1.33, Y: 1.06, Z: 1.2}} {
		a, b := got.Transfer(nil, place), want.Transfer(nil, place)
		for _, test := range []struct{ limit, tol float64 }{{120, 0.02}, {200, 0.06}, {300, 0.15}} {
			rms := wavetest.LevelError(grid, a, b, test.limit)
			if rms > test.tol {
				t.Errorf("%v: %.3f dB rms to %g Hz, wanted %.2f", place, rms, test.limit, test.tol)
			}
		}
	}
}

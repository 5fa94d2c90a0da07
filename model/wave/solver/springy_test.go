package solver

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material/fit"
	"evenbass/model/mode/modetest"
	"evenbass/model/wave/wavetest"
)

// springy is a wall of a resistance and a spring that has a specific admittance at one
// frequency. It is passive at all, as a fixed complex admittance is not.
func springy(beta complex128, f float64, air model.Air) fit.Branches {
	z := complex(air.Impedance(), 0) / beta
	return fit.Branches{Air: air, List: []fit.Branch{{Resistance: real(z), Stiffness: -imag(z) * 2 * math.Pi * f}}}
}

// Springy walls over the whole band, β = 0.02+0.05j at 95 Hz, its middle; from 30 to 300
// Hz that goes from 0.002+0.018j to 0.09+0.07j. The published levels of such walls are
// for one complex β at every frequency, so the exact field is that of package mode, which
// takes walls as they are at each frequency and is itself tested against the published levels.
// Both sides of the error: within the limits that the solver is meant for, and falling
// with the square of the cell.
func TestSpringyWallsOverABand(t *testing.T) {
	t.Parallel()
	grid := model.NewGrid(30, 300, 24, 3)
	box := model.Box{Size: wavetest.CheckSize, Air: wavetest.CheckAir}
	for i := range box.Walls {
		box.Walls[i] = springy(0.02+0.05i, 95, wavetest.CheckAir)
	}
	field := modetest.Field(t, box, grid, wavetest.CheckSeat)
	scene := wavetest.BoxScene(t, box)
	places := []r3.Vec{wavetest.CheckSource, {X: 0.7, Y: 2.9, Z: 1.1}, {X: 1.9, Y: 0.4, Z: 2}}
	var zones []model.Block
	for _, p := range places {
		zones = append(zones, wavetest.Around(p)...)
	}
	var off [2][]float64 // by cell and place, of the pressure
	for k, cell := range []float64{0.14, DefaultCell} {
		e, err := New(scene, grid, Settings{Cell: cell, Zones: zones})
		if err != nil {
			t.Fatal(err)
		}
		f, err := e.Run(t.Context(), wavetest.CheckSeat)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range places {
			got, want := f.Transfer(nil, p), field.Transfer(nil, p)
			off[k] = append(off[k], wavetest.RelativeError(got, want))
			low, mid, all := wavetest.LevelError(grid, got, want, 120), wavetest.LevelError(grid, got, want, 200), wavetest.LevelError(grid, got, want, 300)
			t.Logf("cells of %.2f m, %v: %.3f, %.3f and %.3f dB rms to 120, 200 and 300 Hz", cell, p, low, mid, all)
			if cell == DefaultCell && (low > 0.2 || mid > 0.4 || all > 0.8) {
				t.Errorf("%v: %.3f, %.3f and %.3f dB rms to 120, 200 and 300 Hz, want 0.2, 0.4 and 0.8", p, low, mid, all)
			}
		}
	}
	for i, p := range places {
		if order := math.Log(off[0][i]/off[1][i]) / math.Log(0.14/DefaultCell); order < 1.6 {
			t.Errorf("%v: the error falls with the power %.2f of the cell only", p, order)
		}
	}
}

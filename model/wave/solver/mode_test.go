package solver

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/mode"
	"evenbass/model/wave/wavetest"
)

// The run against the exact modal field of the box, unsmoothed, at several places.
func TestAgainstExactField(t *testing.T) {
	t.Parallel()
	air := model.AirAt(0)
	box := model.Box{Size: r3.Vec{X: 4.7, Y: 3.4, Z: 2.45}, Air: air}
	for i := range box.Walls {
		box.Walls[i] = model.Plain([]complex128{0.04, 0.06, 0.03, 0.03, 0.02, 0.05}[i])
	}
	grid := model.NewGrid(20, 300, 24, 3)
	exact, err := mode.New(box, grid, mode.Settings{})
	if err != nil {
		t.Fatal(err)
	}
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

package wave

import (
	"math"
	"math/cmplx"
	"testing"

	"evenbass/model"
	"evenbass/model/mode"

	"gonum.org/v1/gonum/spatial/r3"
)

// levelError returns the root mean square of the level difference in dB over the
// grid's frequencies below limit, where want is within 25 dB of its maximum.
func levelError(grid model.Grid, got, want []complex128, limit float64) float64 {
	var most float64
	for _, v := range want {
		most = max(most, cmplx.Abs(v))
	}
	var sum, count float64
	for i, f := range grid {
		if f > limit || cmplx.Abs(want[i]) < most*math.Pow(10, -25.0/20) {
			continue
		}
		d := 20 * math.Log10(cmplx.Abs(got[i])/cmplx.Abs(want[i]))
		sum += d * d
		count++
	}
	return math.Sqrt(sum / count)
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
	exact, err := mode.New(box, grid, mode.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	scene, err := BoxScene(box)
	if err != nil {
		t.Fatal(err)
	}
	e, err := New(scene, grid, Settings{
		Zones: []model.Block{{Min: r3.Vec{X: 0.3, Y: 0.4, Z: 0.9}, Max: r3.Vec{X: 1.5, Y: 3, Z: 1.2}}},
	})
	if err != nil {
		t.Fatal(err)
	}
	seat := r3.Vec{X: 2.93, Y: 1.7, Z: 1.2}
	got, err := e.Field(seat)
	if err != nil {
		t.Fatal(err)
	}
	want, err := exact.Field(seat)
	if err != nil {
		t.Fatal(err)
	}
	for _, place := range []r3.Vec{{X: 0.37, Y: 0.83, Z: 1.05}, {X: 0.81, Y: 2.57, Z: 0.95}, {X: 1.33, Y: 1.06, Z: 1.2}} {
		a, b := got.Transfer(nil, place), want.Transfer(nil, place)
		for _, test := range []struct{ limit, tol float64 }{{120, 0.02}, {200, 0.06}, {300, 0.15}} {
			rms := levelError(grid, a, b, test.limit)
			if rms > test.tol {
				t.Errorf("%v: %.3f dB rms to %g Hz, wanted %.2f", place, rms, test.limit, test.tol)
			}
		}
	}
}

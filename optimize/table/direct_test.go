package table

import (
	"math/cmplx"
	"testing"

	"evenbass/model"

	"pgregory.net/rapid"
)

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

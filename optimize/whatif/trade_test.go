package whatif

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"evenbass/model"
	"evenbass/model/material/absorber"
	"evenbass/model/mode"
)

// Doubling a thin layer on the back wall shortens the decay of every axial mode along the room below
// 100 Hz: what the trade tells owners (common practice, no source), by the exact decay of a box's modes.
func TestDoubledRearLayerShortensDecay(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		size := r3.Vec{X: rapid.Float64Range(3, 6).Draw(t, "length"), Y: 3.2, Z: 2.4}
		thin := rapid.Float64Range(0.05, 0.15).Draw(t, "thickness")
		resistivity := rapid.Float64Range(4000, 12000).Draw(t, "flow resistivity")
		rate := func(thickness float64, n int) (f, rate float64) {
			stack, _, err := absorber.NewStack([]model.Layer{{Kind: model.PorousLayer, Thickness: thickness, Resistivity: resistivity}}, nil)
			if err != nil {
				t.Fatal(err)
			}
			box := model.Box{Size: size, Air: model.AirAt(model.ReferenceTemperature)}
			box.Walls[model.Back] = stack
			m, err := mode.FreeDecay(box, [3]int{n, 0, 0})
			if err != nil {
				t.Fatal(err)
			}
			return m.Frequency, m.Rate
		}
		for n := 1; ; n++ {
			f, once := rate(thin, n)
			if f > 100 {
				return
			}
			if _, twice := rate(2*thin, n); twice <= once {
				t.Fatalf("mode (%d,0,0) at %.1f Hz: rate %.3f 1/s with %.0f mm, %.3f 1/s with twice that", n, f, once, 1000*thin, twice)
			}
		}
	})
}

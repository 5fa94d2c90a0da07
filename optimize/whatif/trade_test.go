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

// Wool in the four upright corners shortens the decay below 100 Hz more than as much wool on one side
// wall (common practice, no source).
func TestCornersShortenDecayMore(t *testing.T) {
	t.Parallel()
	p := closet()
	p.Room.Size = r3.Vec{X: 3.4, Y: 2.6, Z: 2.2}
	for i := range p.Room.Walls {
		p.Room.Walls[i].Impedance = 80
	}
	p.Speakers.Left, p.Speakers.Right, p.Seats[0].At = r3.Vec{X: 0.6, Y: 0.8, Z: 1}, r3.Vec{X: 0.6, Y: 1.8, Z: 1}, r3.Vec{X: 2.0, Y: 1.3, Z: 1.1}
	const leg = 0.42
	wool := model.Layer{Kind: model.PorousLayer, Resistivity: 6000}
	var corners model.Option
	for _, walls := range [][2]model.Face{{model.Front, model.Left}, {model.Front, model.Right}, {model.Back, model.Left}, {model.Back, model.Right}} {
		corners.Add = append(corners.Add, model.Treatment{
			Name: walls[0].String() + walls[1].String(), Form: model.InCorner, Layers: []model.Layer{wool}, Corner: model.Corner{Walls: walls, Leg: leg, To: p.Room.Size.Z},
		})
	}
	wool.Thickness = 0.1
	width := 4 * leg * leg / 2 / wool.Thickness
	panel := model.Option{Add: []model.Treatment{{
		Name: "side", Layers: []model.Layer{wool}, Patch: model.Patch{Face: model.Left, Along: (p.Room.Size.X - width) / 2, Width: width, Height: p.Room.Size.Z},
	}}}
	w, err := Compare(t.Context(), p, []model.Option{corners, panel}, model.DefaultGrid(), closetSolver, nil)
	if err != nil {
		t.Fatal(err)
	}
	low := func(s *State) (sum float64) {
		for i, d := range s.Decay {
			if d.Band <= 100 && w.Now.Decay[i].Resolved() {
				sum += d.Fall20
			}
		}
		return sum
	}
	bare, filled, beside := low(&w.Now), low(&w.States[0]), low(&w.States[1])
	t.Logf("20 dB, third octaves to 100 Hz added up: %.2f s bare, %.2f s with corners, %.2f s with a panel", bare, filled, beside)
	if !(filled < 0.9*beside && beside < bare) {
		t.Errorf("20 dB in %.2f s bare, %.2f s with filled corners, %.2f s with a panel of as much wool", bare, filled, beside)
	}
}

package march

import (
	"context"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"evenbass/model"
	"evenbass/model/material/fit"
	"evenbass/model/wave/lattice"
	"evenbass/model/wave/scene"
	"evenbass/model/wave/vector"
	"evenbass/model/wave/wavetest"
)

// Nothing grows, whatever the room: long after the pulse there is less than during
// it.
func TestNothingGrows(t *testing.T) {
	t.Parallel()
	air := model.AirAt(0)
	rapid.Check(t, func(t *rapid.T) {
		number := func(low, high float64, name string) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		size := r3.Vec{X: number(1.2, 2.4, "length"), Y: number(1, 2, "width"), Z: number(1, 2, "height")}
		inside := func(name string) (low, high r3.Vec) {
			var a, b [3]float64
			for i, l := range scene.Components(size) {
				a[i] = number(0, l-0.1, name)
				b[i] = number(a[i]+0.05, l, name)
			}
			return scene.Vec(a), scene.Vec(b)
		}
		s := scene.Scene{Size: size, Air: air}
		for i := range s.Walls {
			s.Walls[i] = fit.Branches{Air: air, List: []fit.Branch{{
				Mass: number(0, 20, "mass"), Resistance: number(0, 5e3, "resistance"), Stiffness: number(10, 1e8, "stiffness"),
			}}}
		}
		if number(0, 1, "outline") > 0.5 { // the far right corner is cut off
			x, y := number(0.3, 0.9, "cut")*size.X, number(0.3, 0.9, "cut")*size.Y
			s.Outline = []r2.Vec{{}, {X: size.X}, {X: size.X, Y: y}, {X: x, Y: size.Y}, {Y: size.Y}}
			s.Edges = []fit.Branches{2: s.Walls[0]}
		}
		low, high := inside("block")
		s.Blocks = []scene.Solid{{Min: low, Max: high, Surface: scene.Resistive(number(0, 1, "beta"), air)}}
		s.Slopes = []scene.Slope{{Height: number(0.9, 2, "roof"), Rise: r2.Vec{X: number(-0.2, 1, "rise")}, Surface: s.Walls[0]}}
		low, high = inside("wool")
		v := wavetest.Wool(air, number(500, 60e3, "sigma"))
		v.Skeleton = number(0.5, 60, "skeleton")
		s.Porous = []scene.Porous{{Min: low, Max: high, PorousVolume: v}}
		low, high = inside("film")
		high.X = low.X
		s.Films = []scene.Film{{Min: low, Max: high, SurfaceMass: number(1e-3, 2, "film"), Resistance: number(0.1, 500, "screen")}}
		if s.Validate() != nil {
			t.Skip("no room")
		}
		y := New(lattice.New(&s, 0.2), vector.Available())
		t.Logf("step %.3g cells %d size %v", y.Step*343/0.2, y.Count(), size)
		cells := y.Within(nil)
		r, err := y.Run(context.Background(), new(Blocks), Request{
			Source: []lattice.Weight{{Cell: cells[len(cells)/2], Share: 1}}, Cells: cells,
			Lowest: 50, Highest: 200, Fall: 200, Longest: 0.5,
		})
		if err != nil {
			t.Fatal(err)
		}
		n := len(r.energy)
		early, late := slices.Max(r.energy[:n/4]), slices.Max(r.energy[3*n/4:])
		if !(late <= 1.5*early) {
			t.Errorf("energy %v has become %v", early, late)
		}
	})
}

package draw

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/absorber"
	"evenbass/model/material/materialtest"
	"evenbass/model/trust"
	"evenbass/model/wave/scene"
	"evenbass/model/wave/solver"
	"evenbass/model/wave/tube"
	"evenbass/model/wave/wavetest"
)

// rearRoom is the room of a rearLayer as a user gives it, its hard walls all but rigid.
func rearRoom(size r3.Vec, beta float64, layers []model.Layer) *model.Room {
	r := &model.Room{Size: size}
	for f := range r.Walls {
		r.Walls[f] = model.Surface{Impedance: 1e7}
	}
	r.Walls[model.Front].Impedance = complex(1/beta, 0)
	r.Treatments = []model.Treatment{{
		Patch: model.Patch{Face: model.Back, Width: size.Y, Height: size.Z}, Layers: layers,
	}}
	return r
}

// Build-ups that the grid holds badly, at the default cell and by what a room would take
// of the two ways: the reflection of the tube by transfer matrices, and a room by the
// exact series, in which nothing is assumed of the layers' reaction.
func TestBetterOfTwoWays(t *testing.T) {
	t.Parallel()
	size, source, seat := r3.Vec{X: 3.7, Y: 2.8, Z: 2.3}, r3.Vec{X: 0.7, Y: 0.9, Z: 1.1}, r3.Vec{X: 2.3, Y: 1.5, Z: 1.2}
	grid := model.NewGrid(20, 300, 24, 3)
	var onWall, onGap [3]float64 // dB rms at worst, of wool over the wall and of wool on a gap
	for _, test := range []struct {
		name   string
		layers []model.Layer
		alpha  float64    // greatest error of absorption in the tube
		tol    [3]float64 // dB rms to 120, 200, 300 Hz; 0 is not run
	}{
		{"100 mm of 12 k", []model.Layer{materialtest.Wool(12e3, 0.1)}, 0.03, [3]float64{}},
		{"200 mm of 12 k", []model.Layer{materialtest.Wool(12e3, 0.2)}, 0.03, [3]float64{}},
		{"300 mm of 12 k", []model.Layer{materialtest.Wool(12e3, 0.3)}, 0.03, [3]float64{}},
		{"100 mm of 20 k", []model.Layer{materialtest.Wool(20e3, 0.1)}, 0.03, [3]float64{0.05, 0.3, 0.3}},
		{"200 mm of 20 k", []model.Layer{materialtest.Wool(20e3, 0.2)}, 0.03, [3]float64{0.05, 0.15, 0.15}},
		{"150 mm of 20 k", []model.Layer{materialtest.Wool(20e3, 0.15)}, 0.03, [3]float64{}},
		{"100 mm of 40 k", []model.Layer{materialtest.Wool(40e3, 0.1)}, 0.03, [3]float64{}},
		{"260 mm of 6 k", []model.Layer{materialtest.Wool(6e3, 0.26)}, 0.03, [3]float64{0.1, 0.25, 0.25}},
		{"100 mm of 10 k", []model.Layer{materialtest.Wool(10e3, 0.1)}, 0.03, [3]float64{0.1, 0.25, 0.3}},
		{"light film on 200 mm of 12 k", []model.Layer{materialtest.Foil(0.1), materialtest.Wool(12e3, 0.2)}, 0.03, [3]float64{0.05, 0.2, 0.2}},
		{"film on 230 mm of 6 k", []model.Layer{materialtest.Foil(0.3), materialtest.Wool(6e3, 0.23)}, 0.03, [3]float64{}},
		{"film on 150 mm of 6 k", []model.Layer{materialtest.Foil(0.2), materialtest.Wool(6e3, 0.15)}, 0.03, [3]float64{}},
		// A block would be right in the tube and 6 dB rms off in the room.
		{"50 mm of 12 k on a gap", []model.Layer{materialtest.Wool(12e3, 0.05), materialtest.Air(0.05)}, 0.02, [3]float64{0.1, 0.65, 0.55}},
	} {
		t.Run(test.name, func(t *testing.T) {
			room := rearRoom(size, 0.03, test.layers)
			d, err := Room(room, material.Typical, solver.DefaultCell, nil)
			if err != nil {
				t.Fatal(err)
			}
			stack, _, err := absorber.NewStack(test.layers, &absorber.Options{Air: d.Scene.Air})
			if err != nil {
				t.Fatal(err)
			}
			checkTube(t, &d.Scene, stack, test.alpha)
			if test.tol == [3]float64{} {
				return
			}
			exact := rearLayer{size: size, air: d.Scene.Air, beta: 0.03, pieces: stack.Pieces()}.exact(grid, source, seat)
			got := solve(t, d.Scene, grid, solver.DefaultCell, source, seat)
			for i, limit := range []float64{120, 200, 300} {
				rms := wavetest.LevelError(grid, got, exact, limit)
				t.Logf("%d blocks: %.3f dB rms to %g Hz", len(d.Scene.Blocks), rms, limit)
				if test.layers[len(test.layers)-1].Kind == model.GapLayer {
					onGap[i] = max(onGap[i], rms)
				} else {
					onWall[i] = max(onWall[i], rms)
				}
				if rms > test.tol[i] {
					t.Errorf("%.3f dB rms to %g Hz, want %.2f", rms, limit, test.tol[i])
				}
			}
		})
	}
	trust.Seen(t, "`wave`, wool over a wall", "%s dB at worst to 120 / 200 / 300 Hz", trust.Figures(2, onWall[:]...))
	trust.Seen(t, "`wave`, 50 mm of wool on a gap", "%s dB to 120 / 200 / 300 Hz", trust.Figures(2, onGap[:]...))
}

// checkTube runs what stands at the back wall of a room in a tube, against the stack.
func checkTube(t *testing.T, room *scene.Scene, stack *absorber.Stack, tol float64) {
	t.Helper()
	end := tube.Scene(room.Air, solver.DefaultCell, stack.Depth())
	shift(&end, room)
	got, _, err := tube.Reflection(end, tube.Grid, solver.DefaultCell, stack.Depth())
	if err != nil {
		t.Fatal(err)
	}
	for i, f := range tube.Grid {
		a := 1 - real(got[i])*real(got[i]) - imag(got[i])*imag(got[i])
		if want := stack.NormalAbsorption(f); math.Abs(a-want) > tol {
			t.Errorf("%g Hz: absorption %.3f, want %.3f", f, a, want)
		}
	}
}

// A wall made to absorb everything includes layers on it that are a block.
func TestAbsorbingFacedWall(t *testing.T) {
	t.Parallel()
	size := r3.Vec{X: 2.4, Y: 1.8, Z: 1.6}
	room := rearRoom(size, 0.05, []model.Layer{{Kind: model.PorousLayer, Thickness: 0.2, Resistivity: 20e3}})
	d, err := Room(room, material.Typical, 0.2, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range []model.Face{model.Back, model.Left} {
		blocks := d.Absorbing(f).Scene.Blocks
		if len(blocks) != 1 {
			t.Fatalf("%d blocks, want the layers' own", len(blocks))
		}
		open := math.Abs(real(blocks[0].Surface.Admittance(100))-1) < 1e-9
		if open != (f == model.Back) {
			t.Errorf("%s made to absorb: the block on the back wall does so: %t", f.Wall(), open)
		}
	}
}

// shift puts what stands at the back wall of a room at the end of a tube.
func shift(tube, room *scene.Scene) {
	move := func(low, high r3.Vec) (r3.Vec, r3.Vec) {
		by := tube.Size.X - room.Size.X
		return r3.Vec{X: low.X + by}, r3.Vec{X: high.X + by, Y: tube.Size.Y, Z: tube.Size.Z}
	}
	for _, p := range room.Porous {
		p.Min, p.Max = move(p.Min, p.Max)
		tube.Porous = append(tube.Porous, p)
	}
	for _, f := range room.Films {
		f.Min, f.Max = move(f.Min, f.Max)
		tube.Films = append(tube.Films, f)
	}
	for _, b := range room.Blocks {
		b.Min, b.Max = move(b.Min, b.Max)
		tube.Blocks = append(tube.Blocks, b)
	}
}

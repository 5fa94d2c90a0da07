package draw

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/wave/scene"
	"evenbass/model/wave/solver"
	"evenbass/model/wave/wavetest"
)

// gable is a treatment of a foil before wool on a rectangle of a wall.
func gable(f model.Face, along, up, width, height float64) model.Treatment {
	return model.Treatment{
		Name: "gable", Patch: model.Patch{Face: f, Along: along, Up: up, Width: width, Height: height},
		Layers: []model.Layer{wavetest.Foil(), wavetest.Batt(0.2)},
	}
}

// Layers that a slope of 45 degrees trims are drawn with the area of their cut, worked by hand: z = 1.1 m + y,
// less what a clearance of 1 cm straight away from it takes. Nearly all of it is in the room's air.
func TestTrimmedLayersKeepTheirVolume(t *testing.T) {
	t.Parallel()
	const taken = model.SlopeClearance * math.Sqrt2
	for _, c := range []struct {
		name string
		t    model.Treatment
		want float64 // m²
	}{
		{"gable", gable(model.Back, 0, 0, 0.77, 2), 0.77 * (1.1 - taken + 0.77/2)},
		{"corner cut off", gable(model.Front, 0.13, 0.3, 1.6, 1.5), 1.6*1.5 - (0.57+taken)*(0.57+taken)/2}, // 1.8 m - 1.23 m
		{"from the eaves to the flat ceiling", gable(model.Back, 0, 0, 2.4, 2), 2.4*2 - (0.9+taken)*(0.9+taken)/2},
		{"whole", gable(model.Back, 0.5, 0, 1, 1.5), 1.5},
	} {
		r := loft(1.1)
		r.Treatments = []model.Treatment{c.t}
		s, _ := drawn(t, r)
		air := scene.NewShape(&s)
		var inside float64
		for _, p := range s.Porous {
			inside += air.Air(p.Min, p.Max)
		}
		if volume := woolVolume(s); math.Abs(volume-0.2*c.want) > 1e-9 || math.Abs(inside/volume-1) > 0.005 {
			t.Errorf("%s: %.4f m³ of wool, %.4f of it in the room, want %.4f", c.name, volume, inside, 0.2*c.want)
		}
		if film := filmArea(s); math.Abs(film-c.want) > 1e-9 {
			t.Errorf("%s: %.4f m² of film, want %.4f", c.name, film, c.want)
		}
	}
}

// Wool on a slope of 45 degrees is drawn as thick as it is square to the slope: √2 of that upright, over its plan.
// Past the knee, 0.9 m from the low wall, it hangs level.
func TestWoolOnASlopeKeepsItsVolume(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		layers []model.Layer
		want   float64 // m³
	}{
		{"wool alone", []model.Layer{wavetest.Batt(0.15)}, 0.15 * 1.1 * (0.7*math.Sqrt2 + 0.6)},
		{"off the ceiling", []model.Layer{wavetest.Batt(0.1), {Kind: model.GapLayer, Thickness: 0.1}}, 0.1 * 1.1 * (0.7*math.Sqrt2 + 0.6)},
	} {
		r := loft(1.1)
		r.Treatments = []model.Treatment{{Name: "on the ceiling", Layers: c.layers, Patch: model.Patch{Face: model.Ceiling, Along: 0.4, Up: 0.2, Width: 1.1, Height: 1.3}}}
		s, _ := drawn(t, r)
		air := scene.NewShape(&s)
		var inside float64
		for _, p := range s.Porous {
			inside += air.Air(p.Min, p.Max)
		}
		if math.Abs(inside/c.want-1) > 0.01 {
			t.Errorf("%s: %.4f m³ of wool in the room, want %.4f", c.name, inside, c.want)
		}
		if low := r.Space(&r.Treatments[0]).Min.Z; math.Abs(low-(1.3-r.Treatments[0].Depth()*math.Sqrt2)) > 1e-9 { // 1.1 m + 0.2 m at its lower edge
			t.Errorf("%s: it begins %.4f m above the floor", c.name, low)
		}
	}
}

// Layers that cells cannot represent cover as much of the wall with their impedance.
func TestTrimmedBoardIsAnImpedance(t *testing.T) {
	t.Parallel()
	r := loft(1.1)
	board := gable(model.Back, 0, 0, 0.77, 2)
	board.Layers = []model.Layer{{Kind: model.PanelLayer, Thickness: 0.004, SurfaceMass: 2.6}, {Kind: model.GapLayer, Thickness: 0.05}}
	r.Treatments = []model.Treatment{board}
	s, _ := drawn(t, r)
	var area float64
	for _, p := range s.Patches {
		area += p.Area()
	}
	if want := r.TrimmedFace(&board).Area(); math.Abs(area-want) > 1e-9 || len(s.Porous) > 0 {
		t.Errorf("%.4f m² of impedance and %d pieces of wool, want %.4f and none", area, len(s.Porous), want)
	}
}

// A room whose slope is at 45 degrees is the same with width and height exchanged, and so is a layer on the
// gable. Its columns then stand along the other axis.
func TestTrimmedLayersAreCutAlike(t *testing.T) {
	t.Parallel()
	grid := model.NewGrid(40, 250, 6, 3)
	swap := func(v r3.Vec) r3.Vec { return r3.Vec{X: v.X, Y: v.Z, Z: v.Y} }
	run := func(piece model.Treatment, seat, place r3.Vec) []complex128 {
		r := &model.Room{Size: r3.Vec{X: 3, Y: 2.4, Z: 2.4}}
		for f := range r.Walls {
			r.Walls[f] = model.Surface{Impedance: 30}
		}
		r.Slopes = []model.Slope{{Through: [3]r3.Vec{{Y: 2.4, Z: 0.3}, {X: 3, Y: 2.4, Z: 0.3}, {Y: 0.3, Z: 2.4}}}}
		r.Treatments = []model.Treatment{piece}
		s, _ := drawn(t, r)
		return solve(t, s, grid, solver.DefaultCell, place, seat)
	}
	seat, place := r3.Vec{X: 1.9, Y: 1.2, Z: 1}, r3.Vec{X: 0.6, Y: 0.7, Z: 0.5}
	tall := run(gable(model.Back, 0, 0, 1.8, 2.4), seat, place)
	wide := run(gable(model.Back, 0, 0, 2.4, 1.8), swap(seat), swap(place))
	if off := wavetest.LevelError(grid, wide, tall, 250); off > 0.1 {
		t.Errorf("%.3f dB rms apart", off)
	} else {
		t.Logf("%.3f dB rms apart", off)
	}
}

// As a slope becomes flat, layers that it trims become whole ones, and layers far below it stay what they are:
// under one that falls by 0.1 mm they do what they do in a room without it.
func TestTrimmedLayersBecomeWhole(t *testing.T) {
	t.Parallel()
	grid := model.NewGrid(40, 250, 6, 3)
	seat, place := r3.Vec{X: 1.9, Y: 1.5, Z: 1.1}, r3.Vec{X: 0.6, Y: 0.7, Z: 0.5}
	run := func(drop, height float64) []complex128 {
		r := wavetest.Study()
		if drop > 0 {
			r.Slopes = []model.Slope{{Through: [3]r3.Vec{{Z: 2 - drop}, {X: 3, Z: 2 - drop}, {Y: 2.4, Z: 2}}}}
		}
		r.Treatments = []model.Treatment{gable(model.Back, 0, 0, 2.4, height)}
		if cut := r.Trimmed(&r.Treatments[0]); cut != (drop > 0 && height == 2) {
			t.Fatalf("a slope that falls by %g m trims a layer of %g m: %v", drop, height, cut)
		}
		s, _ := drawn(t, r)
		return solve(t, s, grid, solver.DefaultCell, place, seat)
	}
	for _, c := range []struct{ height, most float64 }{{1.9, 0.01}, {2, 0.02}} {
		off := wavetest.RelativeError(run(1e-4, c.height), run(0, c.height))
		t.Logf("layers of %g m: %.2g of the pressure off", c.height, off)
		if off > c.most {
			t.Errorf("layers of %g m: %.2g of the pressure off under a slope that falls by 0.1 mm", c.height, off)
		}
	}
}

// On finer cells layers that a slope trims do what they do on the usual ones.
func TestTrimmedLayersConverge(t *testing.T) {
	t.Parallel()
	grid := model.NewGrid(40, 200, 6, 3)
	seat, place := r3.Vec{X: 1.9, Y: 1.5, Z: 1}, r3.Vec{X: 0.6, Y: 1.1, Z: 0.5}
	r := loft(1.1)
	run := func(cell float64, pieces ...model.Treatment) []complex128 {
		r.Treatments = pieces
		d, err := Room(r, 0, cell, nil)
		if err != nil {
			t.Fatal(err)
		}
		return solve(t, d.Scene, grid, cell, place, seat)
	}
	whole := gable(model.Back, 0, 0, 2.4, 2)
	level := gable(model.Back, 0, 0, 2.4, 1.1)
	fine := run(0.07, whole)
	does := wavetest.LevelError(grid, run(solver.DefaultCell, level), fine, 200)
	off := wavetest.LevelError(grid, run(solver.DefaultCell, whole), fine, 200)
	t.Logf("%.2f dB rms off on usual cells, where what is above the lowest place makes %.1f dB", off, does)
	if off > 0.4 || does < 2*off {
		t.Errorf("%.2f dB rms off on usual cells, where what is above the lowest place makes %.1f dB", off, does)
	}
}

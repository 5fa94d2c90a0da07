package draw

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/wave/scene"
	"evenbass/model/wave/solver"
	"evenbass/model/wave/wavetest"
)

// loft is the study under a slope of 45 degrees that rises from the left wall, there of
// the given height, and is flat from 2 m on.
func loft(eaves float64) *model.Room {
	r := wavetest.Study()
	r.Slopes = []model.Slope{{Through: [3]r3.Vec{{Z: eaves}, {X: r.Size.X, Z: eaves}, {Y: 1, Z: eaves + 1}}}}
	return r
}

func inCorner(a, b model.Face, square bool, leg, from, to float64, layers ...model.Layer) model.Treatment {
	return model.Treatment{
		Name: "fill", Form: model.InCorner, Layers: layers,
		Corner: model.Corner{Walls: [2]model.Face{a, b}, Square: square, Leg: leg, From: from, To: to},
	}
}

// Fills under a slope have, as far as they are in the room, the volume that geometry gives them, worked by
// hand: z = eaves + y, so at 45 degrees a leg l along the slope reaches l/√2 from the wall.
func TestFillsUnderASlopeKeepTheirVolume(t *testing.T) {
	t.Parallel()
	const l = 0.5
	for _, c := range []struct {
		name  string
		eaves float64
		t     model.Treatment
		want  float64 // m³
	}{
		{"triangle along the eaves", 1.1, inCorner(model.Left, model.Ceiling, false, l, 0.4, 2.6, wavetest.Batt(0)), l * l / math.Sqrt2 / 2 * 2.2},
		{"square along the eaves", 1.1, inCorner(model.Ceiling, model.Left, true, l, 0, 3, wavetest.Batt(0)), l * l / math.Sqrt2 * 3},
		{"triangle up a gable", 1.1, inCorner(model.Front, model.Ceiling, false, l, 0.1, 0.8, wavetest.Batt(0)), l * l / 2 * 0.7},
		{"square over the bend of a gable", 1.1, inCorner(model.Back, model.Ceiling, true, l, 0.5, 2.4, wavetest.Batt(0)), l * l * 1.9},
		{"along the flat part", 1.1, inCorner(model.Right, model.Ceiling, false, l, 0, 3, wavetest.Batt(0)), l * l / 2 * 3},
		{"square in a low corner", 1.1, inCorner(model.Front, model.Left, true, l, 0, 2, wavetest.Batt(0)), l * (1.1*l + l*l/2)},
		{"triangle in a low corner", 1.1, inCorner(model.Left, model.Front, false, l, 0, 2, wavetest.Batt(0)), 1.1*l*l/2 + l*l*l/6},
		{"along the floor, under the slope", 0.3, inCorner(model.Left, model.Floor, true, 0.6, 0, 3, wavetest.Batt(0)), (0.3*0.3 + 0.3*0.3/2 + 0.6*0.3) * 3},
	} {
		r := loft(c.eaves)
		r.Treatments = []model.Treatment{c.t}
		s, _ := drawn(t, r)
		air := scene.NewShape(&s)
		var sum float64
		for _, p := range s.Porous {
			sum += air.Air(p.Min, p.Max)
		}
		t.Logf("%s: %.4f m³ drawn, %.4f built", c.name, sum, c.want)
		if math.Abs(sum/c.want-1) > 0.02 {
			t.Errorf("%s: %.4f m³ of wool, want %.4f", c.name, sum, c.want)
		}
	}
}

// The film of a stair is as heavy, for its area, as that of the face it stands for: the
// chord between the ends of the legs at 45 degrees, by hand, and up a gable a rhombus.
func TestFilmAlongTheEaves(t *testing.T) {
	t.Parallel()
	const l = 0.5
	chord := math.Hypot(l/math.Sqrt2, l+l/math.Sqrt2)
	for _, c := range []struct {
		name string
		t    model.Treatment
		face float64 // m²
	}{
		{"eaves", inCorner(model.Left, model.Ceiling, false, l, 0.4, 2.4, wavetest.Foil(), wavetest.Batt(0)), chord * 2},
		{"square", inCorner(model.Left, model.Ceiling, true, l, 0.4, 2.4, wavetest.Foil(), wavetest.Batt(0)), (l + l) * 2},
		{"gable", inCorner(model.Front, model.Ceiling, false, l, 0.1, 0.8, wavetest.Foil(), wavetest.Batt(0)), 0.7 * math.Sqrt(3) * l},
	} {
		r := loft(1.1)
		r.Treatments = []model.Treatment{c.t}
		s, warnings := drawn(t, r)
		for _, w := range warnings {
			if s, ok := w.(model.Simplified); ok && s.How == model.OmittedOnGrid {
				t.Errorf("%s: %v", c.name, w)
			}
		}
		stair := filmArea(s)
		const mass = 0.1e-3 * 920 // of foil, kg/m²: the library's film
		inertance := s.Films[0].SurfaceMass / stair
		if want := mass / c.face; math.Abs(inertance/want-1) > 0.02 {
			t.Errorf("%s: %.4f kg/m⁴ over %.3f m² of stair, want %.4f over %.3f m²", c.name, inertance, stair, want, c.face)
		}
	}
}

// A slope of next to nothing is a flat ceiling, which is drawn by other code: the fill
// does the same. A square is one box there and columns here, whose films move their faces
// each for itself. The film before a triangle follows its slant there and is stairs here.
func TestFillAlongAFlatSlope(t *testing.T) {
	t.Parallel()
	grid := model.NewGrid(40, 250, 6, 3)
	seat, place := r3.Vec{X: 1.9, Y: 1.5, Z: 1.1}, r3.Vec{X: 0.6, Y: 0.7, Z: 0.5}
	for _, square := range []bool{false, true} {
		run := func(drop float64) []complex128 {
			r := wavetest.Study()
			if drop > 0 {
				r.Slopes = []model.Slope{{Through: [3]r3.Vec{{Z: 2 - drop}, {X: 3, Z: 2 - drop}, {Y: 2.4, Z: 2}}}}
			}
			r.Treatments = []model.Treatment{inCorner(model.Left, model.Ceiling, square, 0.47, 0, 3, wavetest.Foil(), wavetest.Batt(0))}
			s, _ := drawn(t, r)
			return solve(t, s, grid, solver.DefaultCell, place, seat)
		}
		flat := run(0)
		if off := wavetest.RelativeError(run(1e-4), flat); off > map[bool]float64{true: 0.03, false: 0.06}[square] {
			t.Errorf("square %v: %.2g of the pressure off under a slope that falls by 0.1 mm", square, off)
		}
	}
}

// A room whose slope is at 45 degrees is the same with width and height exchanged, and so
// is a fill in an upright corner, cut at the slope, and one along the floor.
func TestFillsAreCutAlike(t *testing.T) {
	t.Parallel()
	grid := model.NewGrid(40, 250, 6, 3)
	run := func(fill model.Treatment, seat, place r3.Vec) []complex128 {
		r := &model.Room{Size: r3.Vec{X: 3, Y: 2.4, Z: 2.4}}
		for f := range r.Walls {
			r.Walls[f] = model.Surface{Impedance: 30}
		}
		r.Slopes = []model.Slope{{Through: [3]r3.Vec{{Y: 2.4, Z: 0.3}, {X: 3, Y: 2.4, Z: 0.3}, {Y: 0.3, Z: 2.4}}}}
		r.Treatments = []model.Treatment{fill}
		s, _ := drawn(t, r)
		return solve(t, s, grid, solver.DefaultCell, place, seat)
	}
	swap := func(v r3.Vec) r3.Vec { return r3.Vec{X: v.X, Y: v.Z, Z: v.Y} }
	seat, place := r3.Vec{X: 1.9, Y: 1.2, Z: 1}, r3.Vec{X: 0.6, Y: 0.7, Z: 0.5}
	for _, square := range []bool{true, false} {
		upright := run(inCorner(model.Back, model.Left, square, 0.6, 0, 2.4, wavetest.Batt(0)), seat, place)
		level := run(inCorner(model.Back, model.Floor, square, 0.6, 0, 2.4, wavetest.Batt(0)), swap(seat), swap(place))
		off := wavetest.LevelError(grid, level, upright, 250)
		t.Logf("square %v: %.3f dB", square, off)
		if off > 0.05 {
			t.Errorf("square %v: %.3f dB rms apart", square, off)
		}
	}
}

// On finer cells a fill along the eaves does what it does on the usual ones.
func TestFillAlongTheEavesConverges(t *testing.T) {
	t.Parallel()
	grid := model.NewGrid(40, 200, 6, 3)
	seat, place := r3.Vec{X: 1.9, Y: 1.5, Z: 1}, r3.Vec{X: 0.6, Y: 1.1, Z: 0.5}
	r := loft(1.1)
	r.Slopes[0].Surface = model.Surface{}
	run := func(cell float64, fill ...model.Treatment) []complex128 {
		r.Treatments = fill
		d, err := Room(r, 0, cell, nil)
		if err != nil {
			t.Fatal(err)
		}
		return solve(t, d.Scene, grid, cell, place, seat)
	}
	fill := inCorner(model.Left, model.Ceiling, false, 0.6, 0, 3, wavetest.Foil(), wavetest.Batt(0))
	fine := run(0.07, fill)
	does := wavetest.LevelError(grid, run(solver.DefaultCell), fine, 200)
	off := wavetest.LevelError(grid, run(solver.DefaultCell, fill), fine, 200)
	t.Logf("%.2f dB rms off on usual cells, where the fill makes %.1f dB", off, does)
	if off > 0.4 || does < 4 {
		t.Errorf("%.2f dB rms off on usual cells, where the fill makes %.1f dB", off, does)
	}
}

func ExampleRoom_eaves() {
	r := loft(1.2)
	r.Treatments = []model.Treatment{inCorner(model.Left, model.Ceiling, false, 0.3, 0, 3, wavetest.Batt(0))}
	d, err := Room(r, 0, 0.1, nil)
	if err != nil {
		panic(err)
	}
	for _, p := range d.Scene.Porous { // the eaves are level: three columns
		fmt.Printf("%.2f to %.2f m from the wall, from %.2f m up\n", p.Min.Y, p.Max.Y, p.Min.Z)
	}
	// Output:
	// 0.00 to 0.10 m from the wall, from 1.02 m up
	// 0.10 to 0.20 m from the wall, from 1.26 m up
	// 0.20 to 0.21 m from the wall, from 1.40 m up
}

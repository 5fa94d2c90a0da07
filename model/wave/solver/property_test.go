package solver

import (
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material/fit"
	"evenbass/model/wave/scene"
	"evenbass/model/wave/wavetest"
)

// Source and seat change places. With the usual end of a run, 70 dB down, the two ways may
// end at different times, which made a difference of 1e-4; further down what is left is
// rounding.
func TestReciprocity(t *testing.T) {
	t.Parallel()
	a, b := r3.Vec{X: 0.85, Y: 0.71, Z: 0.93}, r3.Vec{X: 1.62, Y: 1.77, Z: 1.21}
	for _, cell := range []float64{0.13, 0.12} {
		set := Settings{Cell: cell, Fall: 90}
		there, back := solveWith(t, wavetest.Den(), wavetest.Coarse, set, a, b), solveWith(t, wavetest.Den(), wavetest.Coarse, set, b, a)
		d := wavetest.Difference(there, back)
		t.Logf("cells of %v m: %.2g", cell, d)
		if d > 5e-5 {
			t.Errorf("cells of %v m: there and back differ by %.2g", cell, d)
		}
	}
}

// The room in a mirror answers as the room does.
func TestMirror(t *testing.T) {
	t.Parallel()
	s := wavetest.Den()
	a, b := r3.Vec{X: 0.85, Y: 0.71, Z: 0.93}, r3.Vec{X: 1.62, Y: 1.77, Z: 1.21}
	want := solve(t, s, wavetest.Coarse, 0.13, a, b)
	w := s.Size.Y
	flip := func(p r3.Vec) r3.Vec { p.Y = w - p.Y; return p }
	both := func(low, high r3.Vec) (r3.Vec, r3.Vec) {
		low.Y, high.Y = w-high.Y, w-low.Y
		return low, high
	}
	for i := range s.Outline {
		s.Outline[i].Y = w - s.Outline[i].Y
	}
	s.Walls[model.Left], s.Walls[model.Right] = s.Walls[model.Right], s.Walls[model.Left]
	s.Slopes[0].Height += s.Slopes[0].Rise.Y * w
	s.Slopes[0].Rise.Y *= -1
	s.Blocks[0].Min, s.Blocks[0].Max = both(s.Blocks[0].Min, s.Blocks[0].Max)
	s.Porous[0].Min, s.Porous[0].Max = both(s.Porous[0].Min, s.Porous[0].Max)
	s.Films[0].Min, s.Films[0].Max = both(s.Films[0].Min, s.Films[0].Max)
	s.Patches[0].Up = w - s.Patches[0].Up - s.Patches[0].Height
	if d := wavetest.Difference(solve(t, s, wavetest.Coarse, 0.13, flip(a), flip(b)), want); d > 1e-4 {
		t.Errorf("the mirrored room differs by %.2g", d)
	}
}

// A notch that grows by a centimetre changes the answer by little, and by about as
// much as by the next: it does not snap to the grid.
func TestNotchMovesSmoothly(t *testing.T) {
	t.Parallel()
	air := model.AirAt(0)
	grid := model.NewGrid(30, 150, 12, 8)
	var before []complex128
	var steps []float64
	for cm := range 8 {
		x := 1.9 + float64(cm)/100
		s := scene.Scene{
			Size: r3.Vec{X: 2.8, Y: 2.2, Z: 1.9}, Air: air,
			Outline: []r2.Vec{{}, {X: 2.8}, {X: 2.8, Y: 1.3}, {X: x, Y: 1.3}, {X: x, Y: 2.2}, {Y: 2.2}},
		}
		for i := range s.Walls {
			s.Walls[i] = scene.Resistive(0.1, air)
		}
		now := solve(t, s, grid, 0.1, r3.Vec{X: 0.7, Y: 0.5, Z: 0.6}, r3.Vec{X: 1.1, Y: 1.6, Z: 1.1})
		if before != nil {
			steps = append(steps, wavetest.Difference(now, before))
		}
		before = now
	}
	if slices.Max(steps) > 1.5*slices.Min(steps) {
		t.Errorf("steps of 1 cm change the answer by %.4f", steps)
	}
}

// A window in a wall of the outline is the same as one in a wall of the bounding box: the
// same room, once as the whole box and once as a part of a longer one.
func TestInsetIsLikeAPatch(t *testing.T) {
	t.Parallel()
	air := model.AirAt(0)
	glass := fit.Branches{Air: air, List: []fit.Branch{{Resistance: 300, Mass: 10, Stiffness: 4e5}}}
	wall := scene.Resistive(0.03, air)
	whole := scene.Scene{Size: r3.Vec{X: 3, Y: 2.4, Z: 2}, Air: air}
	for i := range whole.Walls {
		whole.Walls[i] = wall
	}
	part := whole
	part.Size.X = 3.6
	part.Outline = []r2.Vec{{}, {X: 3}, {X: 3, Y: 2.4}, {Y: 2.4}}
	part.Edges = []fit.Branches{wall, wall, wall, wall}
	whole.Patches = []scene.Patch{
		{Patch: model.Patch{Face: model.Back, Along: 0.33, Up: 0.41, Width: 1.2, Height: 0.9}, Surface: scene.Resistive(0.5, air)},
		{Patch: model.Patch{Face: model.Back, Along: 0.95, Up: 0.75, Width: 0.9, Height: 1.02}, Surface: glass},
	}
	for _, p := range whole.Patches {
		part.Insets = append(part.Insets, scene.Inset{
			From: r2.Vec{X: 3, Y: p.Along}, To: r2.Vec{X: 3, Y: p.Along + p.Width}, Inward: r2.Vec{X: -1},
			Low: p.Up, High: p.Up + p.Height, Surface: p.Surface,
		})
	}
	grid := model.NewGrid(30, 300, 12, 3)
	seat, place := r3.Vec{X: 2, Y: 1.4, Z: 1.1}, r3.Vec{X: 0.6, Y: 0.7, Z: 0.8}
	want := solve(t, whole, grid, 0.1, place, seat)
	got := solve(t, part, grid, 0.1, place, seat)
	if off := wavetest.RelativeError(got, want); off > 1e-3 {
		t.Errorf("the window in the outline is %.5f of the pressure off", off)
	}
	part.Insets = nil
	if off := wavetest.RelativeError(solve(t, part, grid, 0.1, place, seat), want); off < 0.1 {
		t.Errorf("without the windows it is only %.5f off: the test shows nothing", off)
	}
}

// Where a run ends by default against one that goes on for 40 dB more: the tail that
// is left out counts for less than 0.05 dB rms.
func TestUsualFallIsEnough(t *testing.T) {
	t.Parallel()
	scene, _ := wavetest.TreatedRoom()
	settings := Settings{Cell: 0.2, Zones: wavetest.Around(r3.Vec{X: 0.8, Y: 1.1, Z: 1})}
	field := func(fall model.Level) *Field {
		settings.Fall = fall
		e, err := New(scene, wavetest.Coarse, settings)
		if err != nil {
			t.Fatal(err)
		}
		f, err := e.Run(t.Context(), r3.Vec{X: 2.9, Y: 1.7, Z: 1.2})
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	short, long := field(0), field(110)
	if short.Seconds() >= long.Seconds() {
		t.Fatalf("the runs last %.2f and %.2f s", short.Seconds(), long.Seconds())
	}
	source := r3.Vec{X: 0.8, Y: 1.1, Z: 1}
	if rms := wavetest.LevelError(wavetest.Coarse, short.Transfer(nil, source), long.Transfer(nil, source), 250); rms > 0.05 {
		t.Errorf("%.3f dB rms", rms)
	}
}

// A pressure that is the same everywhere stays: in a hard room with wool behind film, whose
// other tones are soon gone, seconds of small steps do not raise it out of the rounding of
// the weights.
func TestStillAirStaysStill(t *testing.T) {
	t.Parallel()
	air := model.AirAt(0)
	s := scene.Scene{Size: r3.Vec{X: 1.5, Y: 1.2, Z: 0.4}, Air: air}
	end := r3.Vec{X: 0.42, Y: 0.42, Z: s.Size.Z}
	s.Porous = []scene.Porous{{Max: end, PorousVolume: wavetest.Wool(air, 6e3), Tested: true}}
	s.Films = []scene.Film{
		{Min: r3.Vec{X: end.X}, Max: end, SurfaceMass: 0.092, Tested: true},
		{Min: r3.Vec{Y: end.Y}, Max: end, SurfaceMass: 0.092, Tested: true},
	}
	place := r3.Vec{X: 1, Y: 0.55, Z: 0.02}
	solve(t, s, model.Grid{40, 100}, 0.05, place, r3.Vec{X: 1.25, Y: 0.9, Z: 0.02}) // warns of a run that was cut
}

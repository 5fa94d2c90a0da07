package wave

import (
	"context"
	"math/cmplx"
	"slices"
	"testing"

	"evenbass/model"
	"evenbass/model/material/fit"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// den is a small L-shaped room with a sloped ceiling, a cupboard, a wall that
// gives, wool in a corner with a film before it, and a patch: all that a scene has.
func den() Scene {
	air := model.AirAt(0)
	plasterboard := fit.Branches{Air: air, List: []fit.Branch{
		{Mass: 10, Resistance: 400, Stiffness: 2e6}, {Resistance: 2e4},
	}}
	s := Scene{
		Size: r3.Vec{X: 3.3, Y: 2.7, Z: 2.3}, Air: air,
		Outline: []r2.Vec{{}, {X: 3.3}, {X: 3.3, Y: 1.55}, {X: 2.1, Y: 1.55}, {X: 2.1, Y: 2.7}, {Y: 2.7}},
		Slopes:  []Slope{{Height: 1.5, Rise: r2.Vec{Y: 0.9}, Surface: plasterboard}},
		Blocks:  []Solid{{Min: r3.Vec{X: 2.9}, Max: r3.Vec{X: 3.3, Y: 0.77, Z: 1.91}}},
		Patches: []Patch{{model.Patch{Face: model.Floor, Along: 0.4, Up: 0.3, Width: 1.33, Height: 1.1}, Resistive(0.2, air)}},
		Porous:  []Porous{{Max: r3.Vec{X: 0.31, Y: 1.8, Z: 1.4}, PorousVolume: wool(air, 8e3)}},
		Films:   []Film{{Min: r3.Vec{X: 0.31}, Max: r3.Vec{X: 0.31, Y: 1.8, Z: 1.4}, SurfaceMass: 0.1}},
	}
	for i := range s.Walls {
		s.Walls[i] = plasterboard
	}
	s.Edges = []fit.Branches{2: plasterboard, 3: plasterboard}
	return s
}

// difference returns the largest difference of two transfers, against the largest
// value.
func difference(a, b []complex128) float64 {
	var d, most float64
	for i := range a {
		d = max(d, cmplx.Abs(a[i]-b[i]))
		most = max(most, cmplx.Abs(b[i]))
	}
	return d / most
}

var coarse = model.NewGrid(25, 250, 12, 10)

// Source and seat change places. With the usual end of a run, 70 dB down, the two ways may
// end at different times, which made a difference of 1e-4; further down what is left is
// rounding.
func TestReciprocity(t *testing.T) {
	t.Parallel()
	a, b := r3.Vec{X: 0.85, Y: 0.71, Z: 0.93}, r3.Vec{X: 1.62, Y: 1.77, Z: 1.21}
	for _, cell := range []float64{0.13, 0.12} {
		set := Settings{Cell: cell, Fall: 90}
		there, back := solveWith(t, den(), coarse, set, a, b), solveWith(t, den(), coarse, set, b, a)
		d := difference(there, back)
		t.Logf("cells of %v m: %.2g", cell, d)
		if d > 5e-5 {
			t.Errorf("cells of %v m: there and back differ by %.2g", cell, d)
		}
	}
}

// The room in a mirror answers as the room does.
func TestMirror(t *testing.T) {
	t.Parallel()
	s := den()
	a, b := r3.Vec{X: 0.85, Y: 0.71, Z: 0.93}, r3.Vec{X: 1.62, Y: 1.77, Z: 1.21}
	want := solve(t, s, coarse, 0.13, a, b)
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
	if d := difference(solve(t, s, coarse, 0.13, flip(a), flip(b)), want); d > 1e-4 {
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
		s := Scene{
			Size: r3.Vec{X: 2.8, Y: 2.2, Z: 1.9}, Air: air,
			Outline: []r2.Vec{{}, {X: 2.8}, {X: 2.8, Y: 1.3}, {X: x, Y: 1.3}, {X: x, Y: 2.2}, {Y: 2.2}},
		}
		for i := range s.Walls {
			s.Walls[i] = Resistive(0.1, air)
		}
		now := solve(t, s, grid, 0.1, r3.Vec{X: 0.7, Y: 0.5, Z: 0.6}, r3.Vec{X: 1.1, Y: 1.6, Z: 1.1})
		if before != nil {
			steps = append(steps, difference(now, before))
		}
		before = now
	}
	if slices.Max(steps) > 1.5*slices.Min(steps) {
		t.Errorf("steps of 1 cm change the answer by %.4f", steps)
	}
}

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
			for i, l := range vector(size) {
				a[i] = number(0, l-0.1, name)
				b[i] = number(a[i]+0.05, l, name)
			}
			return point(a), point(b)
		}
		s := Scene{Size: size, Air: air}
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
		s.Blocks = []Solid{{Min: low, Max: high, Surface: Resistive(number(0, 1, "beta"), air)}}
		s.Slopes = []Slope{{Height: number(0.9, 2, "roof"), Rise: r2.Vec{X: number(-0.2, 1, "rise")}, Surface: s.Walls[0]}}
		low, high = inside("wool")
		v := wool(air, number(500, 60e3, "sigma"))
		v.Skeleton = number(0.5, 60, "skeleton")
		s.Porous = []Porous{{Min: low, Max: high, PorousVolume: v}}
		low, high = inside("film")
		high.X = low.X
		s.Films = []Film{{Min: low, Max: high, SurfaceMass: number(1e-3, 2, "film"), Resistance: number(0.1, 500, "screen")}}
		if s.Validate() != nil {
			t.Skip("no room")
		}
		e, err := New(s, model.Grid{50, 200}, Settings{Cell: 0.2, Longest: 0.5, Fall: 200})
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("step %.3g cells %d size %v", e.system.step*343/0.2, e.medium.cells(), size)
		i := e.record[len(e.record)/2]
		r, err := e.system.Run(context.Background(), e.blocks, e.request([]weighted{{i, 1}}))
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

// Package wavetest holds what the tests of all rooms of package wave share: scenes, rooms, and
// measures of how far two transfers are apart.
package wavetest

import (
	"math"
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material/absorber"
	"evenbass/model/material/fit"
	"evenbass/model/wave/scene"
)

// The room of the published levels and modes: 5 × 4 × 2.5 m, c = 343 m/s, ρ = 1.21 kg/m³,
// source (0.8, 1.1, 0.6), seat (3.3, 2.3, 1.2).
var (
	CheckSize   = r3.Vec{X: 5, Y: 4, Z: 2.5}
	CheckAir    = model.Air{Speed: 343, Density: 1.21}
	CheckSource = r3.Vec{X: 0.8, Y: 1.1, Z: 0.6}
	CheckSeat   = r3.Vec{X: 3.3, Y: 2.3, Z: 1.2}
	CheckGrid   = model.Grid{20, 34.3, 50, 68.6, 100, 150, 200, 300}
)

// Coarse is a grid of a few frequencies.
var Coarse = model.NewGrid(25, 250, 12, 10)

// ResistiveBox returns the check room with a specific admittance for each wall.
func ResistiveBox(air model.Air, betas [6]float64) scene.Scene {
	s := scene.Scene{Size: CheckSize, Air: air}
	for i, beta := range betas {
		s.Walls[i] = scene.Resistive(beta, air)
	}
	return s
}

// BoxScene returns the scene of a box with uniform walls that branches follow exactly.
func BoxScene(t *testing.T, box model.Box) scene.Scene {
	t.Helper()
	s := scene.Scene{Size: box.Size, Air: box.Air}
	for face, wall := range box.Walls {
		surface, err := scene.ExactBranches(wall, box.Air)
		if err != nil {
			t.Fatalf("%s: %v", model.Face(face).Wall(), err)
		}
		s.Walls[face] = surface
	}
	return s
}

// Around returns the zone that holds one place.
func Around(p r3.Vec) []model.Block { return []model.Block{{Min: p, Max: p}} }

// Transfer returns the transfer from source to seat, and reports what the field warns of.
func Transfer(t *testing.T, e model.Engine, source, seat r3.Vec) []complex128 {
	t.Helper()
	f, err := e.Field(t.Context(), seat)
	if err != nil {
		t.Fatal(err)
	}
	if f, ok := f.(interface{ Warnings() []model.Warning }); ok {
		for _, w := range f.Warnings() {
			t.Error(w)
		}
	}
	return f.Transfer(nil, source)
}

// LevelError returns the root mean square of the level difference in dB over the
// grid's frequencies below limit, where want is within 25 dB of its maximum.
func LevelError(grid model.Grid, got, want []complex128, limit float64) float64 {
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

// RelativeError returns the root of the squared errors over that of the squares.
func RelativeError(got, want []complex128) float64 {
	var off, all float64
	for i, w := range want {
		off += real((got[i] - w) * cmplx.Conj(got[i]-w))
		all += real(w * cmplx.Conj(w))
	}
	return math.Sqrt(off / all)
}

// Difference returns the largest difference of two transfers as a share of the largest
// value wanted.
func Difference(got, want []complex128) float64 {
	var d, most float64
	for i := range got {
		d = max(d, cmplx.Abs(got[i]-want[i]))
		most = max(most, cmplx.Abs(want[i]))
	}
	return d / most
}

// Wool returns porous material as the solver carries it, of a flow resistivity in Pa·s/m².
func Wool(air model.Air, sigma float64) absorber.PorousVolume {
	return absorber.JohnsonChampouxAllard{Resistivity: sigma}.Volume(air, absorber.Gas{})
}

// Den is a small L-shaped room with a sloped ceiling, a cupboard, a wall that
// gives, wool in a corner with a film before it, and a patch: all that a scene has.
func Den() scene.Scene {
	air := model.AirAt(0)
	plasterboard := fit.Branches{Air: air, List: []fit.Branch{
		{Mass: 10, Resistance: 400, Stiffness: 2e6}, {Resistance: 2e4},
	}}
	s := scene.Scene{
		Size: r3.Vec{X: 3.3, Y: 2.7, Z: 2.3}, Air: air,
		Outline: []r2.Vec{{}, {X: 3.3}, {X: 3.3, Y: 1.55}, {X: 2.1, Y: 1.55}, {X: 2.1, Y: 2.7}, {Y: 2.7}},
		Slopes:  []scene.Slope{{Height: 1.5, Rise: r2.Vec{Y: 0.9}, Surface: plasterboard}},
		Blocks:  []scene.Solid{{Min: r3.Vec{X: 2.9}, Max: r3.Vec{X: 3.3, Y: 0.77, Z: 1.91}}},
		Patches: []scene.Patch{{
			Patch: model.Patch{Face: model.Floor, Along: 0.4, Up: 0.3, Width: 1.33, Height: 1.1}, Surface: scene.Resistive(0.2, air),
		}},
		Porous: []scene.Porous{{Max: r3.Vec{X: 0.31, Y: 1.8, Z: 1.4}, PorousVolume: Wool(air, 8e3)}},
		Films:  []scene.Film{{Min: r3.Vec{X: 0.31}, Max: r3.Vec{X: 0.31, Y: 1.8, Z: 1.4}, SurfaceMass: 0.1}},
	}
	for i := range s.Walls {
		s.Walls[i] = plasterboard
	}
	s.Edges = []fit.Branches{2: plasterboard, 3: plasterboard}
	return s
}

// Packed is a room of every kind of cell: what den has, and wool with a limp
// skeleton, a screen that air passes, and a slab in the middle of the rows.
func Packed() scene.Scene {
	s := Den()
	limp := Wool(s.Air, 12e3)
	limp.Skeleton = 20
	s.Porous = append(s.Porous,
		scene.Porous{Min: r3.Vec{X: 1.1, Y: 0.3, Z: 0.05}, Max: r3.Vec{X: 2.3, Y: 1.24, Z: 0.3}, PorousVolume: limp},
		scene.Porous{Min: r3.Vec{X: 2.55, Y: 0.8, Z: 0.4}, Max: r3.Vec{X: 2.85, Y: 1.1, Z: 1.3}, PorousVolume: Wool(s.Air, 5e3)},
	)
	s.Films = append(s.Films, scene.Film{
		Min: r3.Vec{X: 1.0, Y: 0.4, Z: 1.34}, Max: r3.Vec{X: 2.0, Y: 1.2, Z: 1.34}, SurfaceMass: 0.2, Resistance: 300,
	})
	return s
}

// TreatedRoom is a room of 4.7 × 3.4 × 2.45 m with plasterboard walls and 200 mm
// of wool behind a film on the back wall, and the zone where speakers may stand.
func TreatedRoom() (scene.Scene, []model.Block) {
	air := model.AirAt(0)
	s := scene.Scene{Size: r3.Vec{X: 4.7, Y: 3.4, Z: 2.45}, Air: air}
	for i := range s.Walls {
		s.Walls[i] = fit.Branches{Air: air, List: []fit.Branch{
			{Mass: 10, Resistance: 400, Stiffness: 2e6}, {Resistance: 12e3},
		}}
	}
	from := r3.Vec{X: 4.5, Y: 0.2, Z: 0.2}
	s.Porous = []scene.Porous{{Min: from, Max: r3.Vec{X: 4.7, Y: 3.2, Z: 2.2}, PorousVolume: Wool(air, 6e3)}}
	s.Films = []scene.Film{{Min: from, Max: r3.Vec{X: 4.5, Y: 3.2, Z: 2.2}, SurfaceMass: 0.1}}
	return s, []model.Block{{Min: r3.Vec{X: 0.3, Y: 0.3, Z: 0.9}, Max: r3.Vec{X: 1.5, Y: 3.1, Z: 1.1}}}
}

// WalledRoom is a box of 4.31 × 3.28 × 2.45 m with walls as a fit of the library's
// constructions gives them, rounded: brick in front and on the left, plasterboard on studs
// behind and on the right, a floor of timber, a ceiling of plasterboard.
func WalledRoom() scene.Scene {
	air := model.AirAt(0)
	brick := []fit.Branch{{Mass: 0.4, Resistance: 150e3, Stiffness: 7.2e6}}
	board := []fit.Branch{
		{Mass: 9.1, Resistance: 9e3, Stiffness: 2.9e6}, {Mass: 56, Resistance: 30e3, Stiffness: 1e-5},
		{Mass: 2.5e-10, Resistance: 0.005, Stiffness: 2e7}, {Mass: 201, Resistance: 0.04, Stiffness: 0.002},
		{Mass: 233, Resistance: 0.05, Stiffness: 0.003},
	}
	floor := []fit.Branch{
		{Mass: 208, Resistance: 44e3, Stiffness: 13e6}, {Mass: 14, Resistance: 21e3, Stiffness: 5.8e6},
		{Mass: 177, Resistance: 8.4e3, Stiffness: 440e3}, {Mass: 3e-8, Resistance: 9.5e3, Stiffness: 45e6},
	}
	ceiling := []fit.Branch{
		{Resistance: 32e3, Stiffness: 1e-4}, {Mass: 1111, Resistance: 93e3, Stiffness: 68e6},
		{Mass: 237, Resistance: 49e3, Stiffness: 27e6}, {Mass: 19, Resistance: 25e3, Stiffness: 10e6},
	}
	s := scene.Scene{Size: r3.Vec{X: 4.31, Y: 3.28, Z: 2.45}, Air: air}
	for f, list := range map[model.Face][]fit.Branch{
		model.Front: brick, model.Back: board, model.Left: brick, model.Right: board, model.Floor: floor, model.Ceiling: ceiling,
	} {
		s.Walls[f] = fit.Branches{Air: air, List: list}
	}
	return s
}

// Study is a small room of plastered brick.
func Study() *model.Room {
	r := &model.Room{Size: r3.Vec{X: 3, Y: 2.4, Z: 2}}
	for f := range r.Walls {
		r.Walls[f] = model.Surface{Construction: "brick plastered"}
	}
	return r
}

// Batt is a layer of light wool of a thickness in m.
func Batt(thickness float64) model.Layer {
	return model.Layer{Kind: model.PorousLayer, Thickness: thickness, Resistivity: 6000}
}

// Foil is a film of 0.1 mm.
func Foil() model.Layer { return model.Layer{Kind: model.FilmLayer, Thickness: 1e-4} }

// CornerRoom is a small room round a corner under a slope, with a door, and with wool on
// its left wall if asked for.
func CornerRoom(wool bool) *model.Room {
	room := &model.Room{
		Size:    r3.Vec{X: 2.4, Y: 2, Z: 1.8},
		Outline: model.Polygon{{X: 0, Y: 0}, {X: 2.4, Y: 0}, {X: 2.4, Y: 1.2}, {X: 1.6, Y: 1.2}, {X: 1.6, Y: 2}, {X: 0, Y: 2}},
		Openings: []model.Opening{{
			Kind: "door", Surface: model.Surface{Construction: "hollow door"},
			Patch: model.Patch{Face: model.Right, Along: 0.4, Width: 0.7, Height: 1.5},
		}},
	}
	for i, name := range []string{"brick plastered", "plasterboard on studs", "brick plastered", "plasterboard on studs", "timber on joists", "plasterboard on joists"} {
		room.Walls[i].Construction = name
	}
	if wool {
		room.Treatments = []model.Treatment{{
			Name: "layer", Form: model.OnWall, Patch: model.Patch{Face: model.Left, Along: 0.3, Up: 0.3, Width: 1, Height: 1},
			Layers: []model.Layer{{Kind: model.PorousLayer, Thickness: 0.2, Resistivity: 8000, Text: "wool 200 mm 8 kPa·s/m²"}},
		}}
	}
	return room
}

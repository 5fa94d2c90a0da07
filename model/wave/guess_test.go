package wave

import (
	"fmt"
	"math"
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/fit"
)

// guessRoom is a small room round a corner under a slope, with a door, and with wool on
// its left wall if asked for.
func guessRoom(wool bool) *model.Room {
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

var guessSettings = Settings{Cell: 0.2, Fits: new(fit.Memory), Zones: []model.Block{{Min: r3.Vec{X: 0.5, Y: 1.2, Z: 1}, Max: r3.Vec{X: 0.5, Y: 1.2, Z: 1}}}}

func guessedRoom(t *testing.T, room *model.Room, e material.Estimate) *Room {
	t.Helper()
	r, err := NewRoom(room, e, model.NewGrid(40, 160, 6, 0), guessSettings)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// apartBy returns the greatest difference of two rooms' transfers, relative to the greatest
// of either.
func apartBy(t *testing.T, a, b *Room) float64 {
	t.Helper()
	seat, source := r3.Vec{X: 1.3, Y: 0.7, Z: 1}, guessSettings.Zones[0].Min
	var lists [2][]complex128
	for i, r := range []*Room{a, b} {
		f, err := r.Field(seat)
		if err != nil {
			t.Fatal(err)
		}
		lists[i] = f.Transfer(nil, source)
	}
	var off, most float64
	for i, v := range lists[0] {
		off, most = max(off, cmplx.Abs(v-lists[1][i])), max(most, cmplx.Abs(v))
	}
	return off / most
}

func evenly(v float64) [6]float64 { return [6]float64{v, v, v, v, v, v} }

// With all walls at an end a bare room is that of the low or the high estimate; with
// nothing guessed it is the room itself, with wool in it too.
func TestGuessAtItsEnds(t *testing.T) {
	t.Parallel()
	bare := guessedRoom(t, guessRoom(false), material.Typical)
	for v, e := range map[float64]material.Estimate{-1: material.Low, 1: material.High} {
		as, err := bare.As(Guess{Walls: evenly(v)}, nil)
		if err != nil {
			t.Fatal(err)
		}
		if d := apartBy(t, as, guessedRoom(t, guessRoom(false), e)); d > 1e-5 {
			t.Errorf("walls at %v: %.2g off the %v estimate", v, d, e)
		}
		if d := apartBy(t, as, bare); d < 0.05 {
			t.Errorf("walls at %v change the room by %.2g only", v, d)
		}
	}
	full := guessedRoom(t, guessRoom(true), material.Typical)
	as, err := full.As(Guess{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if d := apartBy(t, as, full); d > 1e-6 {
		t.Errorf("nothing guessed: %.2g off", d)
	}
}

// Wool guessed to have one and a half times its resistivity is wool of that resistivity.
func TestGuessedWool(t *testing.T) {
	t.Parallel()
	room := guessRoom(true)
	as, err := guessedRoom(t, room, material.Typical).As(Guess{Resistivity: 1.5}, nil)
	if err != nil {
		t.Fatal(err)
	}
	other := guessRoom(true)
	other.Treatments[0].Layers[0].Resistivity *= 1.5
	if d := apartBy(t, as, guessedRoom(t, other, material.Typical)); d > 1e-6 {
		t.Errorf("%.2g off the room with such wool", d)
	}
	if d := apartBy(t, as, guessedRoom(t, room, material.Typical)); d < 0.01 {
		t.Errorf("another resistivity changes the room by %.2g only", d)
	}
}

// One wall guessed takes along what faces like it, and nothing else: the right wall its
// door and the wall of the corner that faces it, the ceiling its slope.
func TestGuessMovesWhatFacesAlike(t *testing.T) {
	t.Parallel()
	room := guessRoom(false)
	room.Slopes = []model.Slope{{Through: [3]r3.Vec{{Z: 1.2}, {X: 2.4, Z: 1.2}, {Y: 1.2, Z: 1.8}}}}
	r := guessedRoom(t, room, material.Typical)
	words := func(b fit.Branches) string { return fmt.Sprint(b.List) }
	for _, f := range model.Faces {
		var g Guess
		g.Walls[f] = 0.5
		s, err := r.guessed(g)
		if err != nil {
			t.Fatal(err)
		}
		for _, o := range model.Faces {
			if (words(s.Walls[o]) != words(r.scene.Walls[o])) != (o == f) {
				t.Errorf("%v guessed: %v", f, o)
			}
		}
		for i := range s.Edges {
			if (words(s.Edges[i]) != words(r.scene.Edges[i])) != (room.EdgeFace(i) == f) {
				t.Errorf("%v guessed: edge %d, which faces as %v", f, i, room.EdgeFace(i))
			}
		}
		for i := range s.Slopes {
			if (words(s.Slopes[i].Surface) != words(r.scene.Slopes[i].Surface)) != (f == model.Ceiling) {
				t.Errorf("%v guessed: slope", f)
			}
		}
		for i := range s.Patches {
			if (words(s.Patches[i].Surface) != words(r.scene.Patches[i].Surface)) != (s.Patches[i].Face == f) {
				t.Errorf("%v guessed: patch on %v", f, s.Patches[i].Face)
			}
		}
	}
	if len(r.scene.Patches) == 0 || len(r.scene.Slopes) == 0 {
		t.Fatal("nothing to look at")
	}
}

// The admittance between two surfaces is their weighted mean, and passive.
func TestMixIsTheMean(t *testing.T) {
	t.Parallel()
	surface := func(t *rapid.T, name string) fit.Branches {
		b := fit.Branches{Air: model.AirAt(0)}
		for range rapid.IntRange(0, 3).Draw(t, name) {
			b.List = append(b.List, fit.Branch{
				Mass: rapid.Float64Range(0, 20).Draw(t, "m"), Resistance: rapid.Float64Range(1, 1e4).Draw(t, "r"), Stiffness: rapid.Float64Range(0, 1e6).Draw(t, "k"),
			})
		}
		return b
	}
	rapid.Check(t, func(t *rapid.T) {
		a, b := surface(t, "a"), surface(t, "b")
		share := rapid.Float64Range(0, 1).Draw(t, "share")
		f := rapid.Float64Range(20, 300).Draw(t, "f")
		got := mix(a, b, share)
		want := complex(1-share, 0)*a.Admittance(f) + complex(share, 0)*b.Admittance(f)
		if !got.Passive() || cmplx.Abs(got.Admittance(f)-want) > 1e-9*(1+cmplx.Abs(want)) {
			t.Fatalf("%v, want %v", got.Admittance(f), want)
		}
	})
}

// Two engines are the same if nothing that is guessed differs.
func TestSameRoom(t *testing.T) {
	t.Parallel()
	room := guessRoom(false)
	for i := range room.Walls {
		room.Walls[i] = model.Surface{Impedance: 12}
	}
	r := guessedRoom(t, room, material.Typical)
	as := func(g Guess) *Room {
		o, err := r.As(g, nil)
		if err != nil {
			t.Fatal(err)
		}
		return o
	}
	typical := as(Guess{})
	if !as(Guess{Walls: [6]float64{1, 0, 1}, Resistivity: 1.4}).Same(typical) {
		t.Error("walls of known impedance, and no wool, but another room")
	}
	if as(Guess{Walls: [6]float64{model.Right: -1}}).Same(typical) {
		t.Error("the door changes nothing")
	}
	defer func() {
		if recover() == nil {
			t.Error("a wall beyond its ends")
		}
	}()
	as(Guess{Walls: [6]float64{math.NaN()}})
}

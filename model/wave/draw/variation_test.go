package draw

import (
	"fmt"
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/fit"
	"evenbass/model/wave/wavetest"
)

// A wall that varies takes along what faces like it, and nothing else: the right wall its
// door and the wall of the corner that faces it, the ceiling its slope.
func TestVariedMovesWhatFacesAlike(t *testing.T) {
	t.Parallel()
	room := wavetest.CornerRoom(false)
	room.Slopes = []model.Slope{{Through: [3]r3.Vec{{Z: 1.2}, {X: 2.4, Z: 1.2}, {Y: 1.2, Z: 1.8}}}}
	r, err := Room(room, material.Typical, 0.2, new(fit.Memory))
	if err != nil {
		t.Fatal(err)
	}
	words := func(b fit.Branches) string { return fmt.Sprint(b.List) }
	for _, f := range model.Faces {
		var walls [6]float64
		walls[f] = 0.5
		d, err := r.Varied(walls, 0)
		if err != nil {
			t.Fatal(err)
		}
		s := d.Scene
		for _, o := range model.Faces {
			if (words(s.Walls[o]) != words(r.Scene.Walls[o])) != (o == f) {
				t.Errorf("%v varied: %v", f, o)
			}
		}
		for i := range s.Edges {
			if (words(s.Edges[i]) != words(r.Scene.Edges[i])) != (room.EdgeFace(i) == f) {
				t.Errorf("%v varied: edge %d, which faces as %v", f, i, room.EdgeFace(i))
			}
		}
		for i := range s.Slopes {
			if (words(s.Slopes[i].Surface) != words(r.Scene.Slopes[i].Surface)) != (f == model.Ceiling) {
				t.Errorf("%v varied: slope", f)
			}
		}
		for i := range s.Patches {
			if (words(s.Patches[i].Surface) != words(r.Scene.Patches[i].Surface)) != (s.Patches[i].Face == f) {
				t.Errorf("%v varied: patch on %v", f, s.Patches[i].Face)
			}
		}
	}
	if len(r.Scene.Patches) == 0 || len(r.Scene.Slopes) == 0 {
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

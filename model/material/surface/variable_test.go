package surface

import (
	"math"
	"math/cmplx"
	"testing"

	"pgregory.net/rapid"

	"evenbass/model"
	"evenbass/model/material"

	"gonum.org/v1/gonum/spatial/r3"
)

func drawnRoom() *model.Room {
	r := &model.Room{Size: r3.Vec{X: 4, Y: 3, Z: 2.4}}
	for i, name := range []string{"brick plastered", "plasterboard on studs", "concrete", "unknown", "timber on joists", "plasterboard on joists"} {
		r.Walls[i].Construction = name
	}
	return r
}

// At -1, 0 and 1 a drawn room is the room by the three estimates.
func TestDrawnEnds(t *testing.T) {
	t.Parallel()
	d, err := NewVariable(drawnRoom())
	if err != nil {
		t.Fatal(err)
	}
	for _, end := range []struct {
		at       float64
		estimate material.Estimate
	}{{-1, material.Low}, {0, material.Typical}, {1, material.High}} {
		want, _, err := Box(drawnRoom(), end.estimate)
		if err != nil {
			t.Fatal(err)
		}
		got := d.Box([6]float64{end.at, end.at, end.at, end.at, end.at, end.at})
		for _, face := range model.Faces {
			for _, f := range []float64{31.5, 80, 200} {
				if a, b := got.Admittance(face, f), want.Admittance(face, f); cmplx.Abs(a-b) > 1e-12 {
					t.Errorf("%v wall at %g Hz, %v: %v, want %v", face, f, end.estimate, a, b)
				}
			}
		}
	}
}

// In between a wall is passive, takes up the more the higher it is drawn, and leaves
// the other walls alone.
func TestDrawnBetween(t *testing.T) {
	t.Parallel()
	d, err := NewVariable(drawnRoom())
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		low, high := rapid.Float64Range(-1, 1).Draw(t, "low"), rapid.Float64Range(-1, 1).Draw(t, "high")
		low, high = min(low, high), max(low, high)
		f := rapid.Float64Range(25, 300).Draw(t, "f")
		face := model.Faces[rapid.IntRange(0, 5).Draw(t, "face")]
		var a, b [6]float64
		a[face], b[face] = low, high
		boxA, boxB := d.Box(a), d.Box(b)
		va, vb := real(boxA.Admittance(face, f)), real(boxB.Admittance(face, f))
		if va < 0 || math.IsNaN(va) || vb < va-1e-12 {
			t.Fatalf("%v wall: %g at %g, %g at %g", face, va, low, vb, high)
		}
		other := (face + 1) % 6
		if boxA.Admittance(other, f) != boxB.Admittance(other, f) {
			t.Fatal("another wall has changed")
		}
	})
}

// A wall cannot be drawn beyond its estimates, and a room that makes no sense is
// refused.
func TestDrawnRefuses(t *testing.T) {
	t.Parallel()
	if _, err := NewVariable(&model.Room{}); err == nil {
		t.Error("a room without size")
	}
	d, err := NewVariable(drawnRoom())
	if err != nil {
		t.Fatal(err)
	}
	for _, v := range []float64{1.01, -2, math.NaN()} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("a wall at %g", v)
				}
			}()
			d.Box([6]float64{v})
		}()
	}
}

package image

import (
	"math"
	"math/cmplx"
	"sync"
	"testing"

	"evenbass/model"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func drawPlace(t *rapid.T, size r3.Vec, name string) r3.Vec {
	u := rapid.Float64Range(0.02, 0.98)
	return r3.Vec{X: size.X * u.Draw(t, name+".x"), Y: size.Y * u.Draw(t, name+".y"), Z: size.Z * u.Draw(t, name+".z")}
}

func drawBox(t *rapid.T) model.Box {
	metres := rapid.Float64Range(2, 7)
	box := model.Box{Air: airT, Size: r3.Vec{X: metres.Draw(t, "length"), Y: metres.Draw(t, "width"), Z: metres.Draw(t, "height")}}
	yields := rapid.Bool().Draw(t, "yields")
	for i := range box.Walls {
		beta := complex(rapid.Float64Range(0.05, 0.4).Draw(t, "re"), 0)
		if yields {
			beta += complex(0, rapid.Float64Range(-0.2, 0.2).Draw(t, "im"))
		}
		box.Walls[i] = model.Plain(beta)
	}
	return box
}

func drawn(t *rapid.T, box model.Box, grid model.Grid, seat, source r3.Vec) []complex128 {
	e, err := New(box, grid, Settings{Decay: -15})
	if err != nil {
		t.Fatal(err)
	}
	f, err := e.Field(t.Context(), seat)
	if err != nil {
		t.Fatal(err)
	}
	return f.Transfer(nil, source)
}

var coarse = model.NewGrid(20, 315, 2, 0)

// Reciprocity: source and seat may change places.
func TestReciprocity(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		box := drawBox(t)
		a, b := drawPlace(t, box.Size, "a"), drawPlace(t, box.Size, "b")
		if e := worst(drawn(t, box, coarse, a, b), drawn(t, box, coarse, b, a)); !(e < 1e-9) {
			t.Fatalf("off by %.2g", e)
		}
	})
}

// A room and its mirror image in one axis sound the same.
func TestMirrorSymmetry(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		box := drawBox(t)
		a, b := drawPlace(t, box.Size, "a"), drawPlace(t, box.Size, "b")
		want := drawn(t, box, coarse, a, b)
		w := &box.Walls
		switch rapid.IntRange(0, 2).Draw(t, "axis") {
		case 0:
			w[0], w[1], a.X, b.X = w[1], w[0], box.Size.X-a.X, box.Size.X-b.X
		case 1:
			w[2], w[3], a.Y, b.Y = w[3], w[2], box.Size.Y-a.Y, box.Size.Y-b.Y
		case 2:
			w[4], w[5], a.Z, b.Z = w[5], w[4], box.Size.Z-a.Z, box.Size.Z-b.Z
		}
		if e := worst(drawn(t, box, coarse, a, b), want); !(e < 1e-9) {
			t.Fatalf("off by %.2g", e)
		}
	})
}

// A room twice as large at half the frequency: G halves and p = jωρG falls to a
// quarter.
func TestScaling(t *testing.T) {
	t.Parallel()
	half := make(model.Grid, len(coarse))
	for i, f := range coarse {
		half[i] = f / 2
	}
	rapid.Check(t, func(t *rapid.T) {
		box := drawBox(t)
		a, b := drawPlace(t, box.Size, "a"), drawPlace(t, box.Size, "b")
		want := drawn(t, box, coarse, a, b)
		box.Size = r3.Scale(2, box.Size)
		got := drawn(t, box, half, r3.Scale(2, a), r3.Scale(2, b))
		for i := range got {
			got[i] *= 4
		}
		// The search for the length ends within 1e-7 of it, and what that moves counts in dips.
		if e := worst(got, want); !(e < 1e-3) {
			t.Fatalf("off by %.2g", e)
		}
	})
}

// A passive wall gives back no more than it gets, at any angle.
func TestReflectionIsPassive(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		beta := complex(rapid.Float64Range(0, 10).Draw(t, "re"), rapid.Float64Range(-10, 10).Draw(t, "im"))
		c := rapid.Float64Range(1e-6, 1).Draw(t, "cosine")
		if r := cmplx.Abs(Reflection(beta, c)); !(r <= 1+1e-12) {
			t.Fatalf("|R| = %v", r)
		}
	})
}

// |R| and real β at normal incidence for an absorption 1-|R|² (Allen & Berkley
// 1979 for the relation; Vorländer, Auralization, Eq. 11.39; values recomputed).
func TestReflectionOfAbsorption(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ alpha, r, beta float64 }{
		{0.05, 0.97467943, 0.01282262},
		{0.1, 0.94868330, 0.02633404},
		{0.2, 0.89442719, 0.05572809},
		{0.36, 0.8, 0.11111111},
		{0.5, 0.70710678, 0.17157288},
	} {
		r := real(Reflection(complex(c.beta, 0), 1))
		if math.Abs(r-c.r) > 1e-8*2 || math.Abs(1-r*r-c.alpha) > 1e-7 {
			t.Errorf("β %v: R = %.9f, want %v for an absorption of %v", c.beta, r, c.r, c.alpha)
		}
	}
}

// One field serves several goroutines, each with the same answer as alone.
func TestFieldIsSafeForGoroutines(t *testing.T) {
	t.Parallel()
	f := mustField(t, model.Box{Size: roomT, Air: airT, Walls: each(0.1)}, coarse, Settings{Decay: -30}, seatT)
	want := f.Transfer(nil, sourceT)
	var wait sync.WaitGroup
	for range 8 {
		wait.Go(func() {
			for range 20 {
				if e := worst(f.Transfer(nil, sourceT), want); e != 0 {
					t.Errorf("off by %.2g", e)
				}
			}
		})
	}
	wait.Wait()
}

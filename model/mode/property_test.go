package mode

import (
	"context"
	"math"
	"math/cmplx"
	"testing"

	"evenbass/model"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// drawBox draws a small room with six passive walls of |β| up to most.
func drawBox(t *rapid.T, most float64) model.Box {
	num := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	box := rigidBox(num("length", 3, 7), num("width", 2.5, 6), num("height", 2, 3.5), 343)
	for _, f := range model.Faces {
		beta := cmplx.Rect(most*math.Pow(10, num(f.String(), -2.5, 0)), num("phase", -1.5, 1.5))
		box.Walls[f] = model.Plain(beta)
	}
	return box
}

// drawPlace draws a place in the box within the given shares of its size.
func drawPlace(t *rapid.T, name string, box model.Box, lo, hi float64) r3.Vec {
	share := rapid.Float64Range(lo, hi)
	return r3.Vec{
		X: box.Size.X * share.Draw(t, name+".x"),
		Y: box.Size.Y * share.Draw(t, name+".y"),
		Z: box.Size.Z * share.Draw(t, name+".z"),
	}
}

func newField(t interface{ Fatal(...any) }, box model.Box, grid model.Grid, s Settings, seat r3.Vec) *Field {
	e, err := New(box, grid, s)
	if err != nil {
		t.Fatal(err)
	}
	f, err := e.Field(context.Background(), seat)
	if err != nil {
		t.Fatal(err)
	}
	return f.(*Field)
}

// directSound is the free field at the distance of two places.
func directSound(box model.Box, f float64, a, b r3.Vec) float64 {
	return 2 * math.Pi * f * box.Air.Density / (4 * math.Pi * r3.Norm(r3.Sub(a, b)))
}

// differ reports whether two transfers differ by more than a share of the larger
// of themselves and the direct sound.
func differ(a, b complex128, direct, share float64) bool {
	return !(cmplx.Abs(a-b) <= share*max(direct, cmplx.Abs(a)))
}

// The sum can be arranged with the closed form along any axis. The three use
// different modes, so that they only agree if every set is complete and every norm
// right: walls up to |β| = 2 of any phase.
func TestThreeExpansionsAgree(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		box := drawBox(t, 2)
		grid := model.Grid{rapid.Float64Range(20, 315).Draw(t, "f")}
		seat, source := drawPlace(t, "seat", box, 0.6, 0.95), drawPlace(t, "source", box, 0.05, 0.3)
		f := newField(t, box, grid, Settings{Accuracy: 1e-8, Near: 0.6}, seat)
		x, y, z := f.expand(make([]complex128, 1), source, 0)[0], f.expand(make([]complex128, 1), source, 1)[0], f.expand(make([]complex128, 1), source, 2)[0]
		if d := directSound(box, grid[0], seat, source); differ(x, y, d, 1e-6) || differ(x, z, d, 1e-6) {
			t.Fatalf("along x %v, y %v, z %v; direct sound %v", x, y, z, d)
		}
	})
}

// Walls so springy, and alike, that waves cling to them: the even and the odd one
// of a pair then have one eigenvalue to all digits.
func TestClingingWaves(t *testing.T) {
	t.Parallel()
	grid := model.Grid{150, 250, 315}
	for _, beta := range []complex128{0.1 + 0.7i, 0.05 + 1.2i, 0.02 + 1.9i} {
		box := roomT(0, even(beta)...)
		f := newField(t, box, grid, Settings{Accuracy: 1e-9, Near: 0.6}, r3.Vec{X: 4.85, Y: 3.85, Z: 2.4})
		source := r3.Vec{X: 0.15, Y: 0.2, Z: 0.1}
		x := f.expand(make([]complex128, len(grid)), source, 0)
		y := f.expand(make([]complex128, len(grid)), source, 1)
		z := f.expand(make([]complex128, len(grid)), source, 2)
		for i := range grid {
			if d := directSound(box, grid[i], f.seat, source); differ(x[i], y[i], d, 1e-8) || differ(x[i], z[i], d, 1e-8) {
				t.Errorf("β %v at %v Hz: along x %v, y %v, z %v", beta, grid[i], x[i], y[i], z[i])
			}
		}
	}
}

// Reciprocity: source and seat may change places (Rayleigh, Theory of Sound, §294).
func TestReciprocity(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		box := drawBox(t, 1)
		grid := model.Grid{rapid.Float64Range(20, 315).Draw(t, "f")}
		a, b := drawPlace(t, "a", box, 0, 0.4), drawPlace(t, "b", box, 0.6, 1)
		there := newField(t, box, grid, Settings{}, a).Transfer(nil, b)
		back := newField(t, box, grid, Settings{}, b).Transfer(nil, a)
		if differ(there[0], back[0], 0, 1e-9) {
			t.Fatalf("a to b %v, b to a %v", there, back)
		}
	})
}

// A mirrored room with mirrored places gives the same transfer.
func TestMirror(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		box := drawBox(t, 1)
		grid := model.Grid{rapid.Float64Range(20, 315).Draw(t, "f")}
		seat, source := drawPlace(t, "seat", box, 0.6, 1), drawPlace(t, "source", box, 0, 0.4)
		mirrored := box
		mirrored.Walls[model.Front], mirrored.Walls[model.Back] = box.Walls[model.Back], box.Walls[model.Front]
		mirrored.Walls[model.Left], mirrored.Walls[model.Right] = box.Walls[model.Right], box.Walls[model.Left]
		flip := func(p r3.Vec) r3.Vec { return r3.Vec{X: box.Size.X - p.X, Y: box.Size.Y - p.Y, Z: p.Z} }
		p := newField(t, box, grid, Settings{}, seat).Transfer(nil, source)
		q := newField(t, mirrored, grid, Settings{}, flip(seat)).Transfer(nil, flip(source))
		if differ(p[0], q[0], 0, 1e-9) {
			t.Fatalf("%v, mirrored %v", p, q)
		}
	})
}

// A room of twice the size has the same G·L at half the frequency, so that the
// transfer jωρG is a quarter.
func TestScaling(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		box := drawBox(t, 1)
		f := rapid.Float64Range(40, 315).Draw(t, "f")
		seat, source := drawPlace(t, "seat", box, 0.6, 1), drawPlace(t, "source", box, 0, 0.4)
		large := box
		large.Size = r3.Scale(2, box.Size)
		s := Settings{Accuracy: 1e-8, Near: 0.8}
		p := newField(t, box, model.Grid{f}, s, seat).Transfer(nil, source)
		q := newField(t, large, model.Grid{f / 2}, s, r3.Scale(2, seat)).Transfer(nil, r3.Scale(2, source))
		if differ(p[0], 4*q[0], directSound(box, f, seat, source), 1e-7) {
			t.Fatalf("%v, doubled %v", p, q)
		}
	})
}

// Energy: multiplying d²ψ/dx² + q²ψ = 0 by the conjugate of ψ and integrating gives
//
//	Im q² ∫|ψ|² dx = Re(kβ0)|ψ(0)|² + Re(kβL)|ψ(L)|²
//
// for real k, so that passive walls have Im q² ≥ 0. It holds every mode's shape and
// eigenvalue against each other; the integral is Simpson's.
func TestModeEnergy(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		box := drawBox(t, 2)
		f := rapid.Float64Range(20, 315).Draw(t, "f")
		k := box.Air.Wavenumber(f)
		near, far := k*box.Admittance(model.Front, f), k*box.Admittance(model.Back, f)
		length := box.Size.X
		ax, err := newAxis(length, near, far, 8)
		if err != nil {
			t.Fatal(err)
		}
		for i := range 8 {
			m := &ax.modes[i]
			square := func(x float64) float64 { p := cmplx.Abs(m.at(x)); return p * p }
			var energy float64
			const n = 1500
			for j := range n {
				a, b := length*float64(j)/n, length*float64(j+1)/n
				energy += (square(a) + 4*square((a+b)/2) + square(b)) * (b - a) / 6
			}
			in := imag(m.square) * energy
			out := real(near)*square(0) + real(far)*square(length)
			if math.Abs(in-out) > 1e-7*(cmplx.Abs(m.square)*energy+out) {
				t.Fatalf("mode %d, q = %v: %v against %v at the walls", i, m.q, in, out)
			}
		}
	})
}

package wave

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"testing"

	"evenbass/model"

	"gonum.org/v1/gonum/spatial/r3"
)

// packed is a room of every kind of cell: what den has, and wool with a limp
// skeleton, a screen that air passes, and a slab in the middle of the rows.
func packed() Scene {
	s := den()
	limp := wool(s.Air, 12e3)
	limp.Skeleton = 20
	s.Porous = append(s.Porous,
		Porous{Min: r3.Vec{X: 1.1, Y: 0.3, Z: 0.05}, Max: r3.Vec{X: 2.3, Y: 1.24, Z: 0.3}, PorousVolume: limp},
		Porous{Min: r3.Vec{X: 2.55, Y: 0.8, Z: 0.4}, Max: r3.Vec{X: 2.85, Y: 1.1, Z: 1.3}, PorousVolume: wool(s.Air, 5e3)},
	)
	s.Films = append(s.Films, Film{
		Min: r3.Vec{X: 1.0, Y: 0.4, Z: 1.34}, Max: r3.Vec{X: 2.0, Y: 1.2, Z: 1.34}, SurfaceMass: 0.2, Resistance: 300,
	})
	return s
}

// The kernels of this build against one another over a whole run: the answers of a
// treated room of any shape are the same. The widths are such that the last group
// of a row is full, has one cell, and has all but one.
func TestKernelsAgree(t *testing.T) {
	t.Parallel()
	if !hasVectors() {
		t.Skip("this build, or this machine, has the portable kernels only")
	}
	for _, cells := range []float64{24, 25, 23} {
		t.Run(fmt.Sprintf("%v cells in a row", cells), func(t *testing.T) {
			t.Parallel()
			s := packed()
			e, err := New(s, coarse, Settings{Cell: s.Size.X / cells})
			if err != nil {
				t.Fatal(err)
			}
			plain := *e
			plain.system = newSystem(e.medium, e.system.step, false)
			seat := r3.Vec{X: 1.62, Y: 1.47, Z: 1.21}
			got, err := e.Run(t.Context(), seat)
			if err != nil {
				t.Fatal(err)
			}
			want, err := plain.Run(t.Context(), seat)
			if err != nil {
				t.Fatal(err)
			}
			for _, p := range []r3.Vec{{X: 0.85, Y: 0.71, Z: 0.93}, {X: 0.6, Y: 2.2, Z: 1.8}, {X: 2.5, Y: 0.4, Z: 0.5}} {
				if d := difference(got.Transfer(nil, p), want.Transfer(nil, p)); d > 1e-5 {
					t.Errorf("at %.2f the kernels differ by %.2g", p, d)
				}
			}
		})
	}
}

// Every cell of air is marched once: as an even one or as an odd one, by either
// kernel.
func TestEachCellOnce(t *testing.T) {
	t.Parallel()
	s := packed()
	m := newMedium(&s, 0.11)
	step := m.stableStep()
	for _, vectors := range []bool{false, hasVectors()} {
		y := newSystem(m, step, vectors)
		times := make([]int, m.size)
		for _, r := range y.uniform {
			for i := r.from; i < r.to; i++ {
				times[i]++
			}
		}
		for _, s := range y.irregular.stretches {
			for _, at := range y.irregular.cells(s) {
				for l := range lanes {
					if y.irregular.kinds[s.kind].lanes>>l&1 != 0 {
						times[int(at)+l]++
					}
				}
			}
		}
		air := 0
		m.each(func(i int, c [3]int) {
			want := 0
			if m.volume[i] > 0 {
				want, air = 1, air+1
			}
			if times[i] != want {
				t.Fatalf("vectors %v: cell %v is marched %d times, want %d", vectors, c, times[i], want)
			}
			times[i] = 0
		})
		for i, n := range times {
			if n != 0 {
				t.Fatalf("vectors %v: ghost %d is marched", vectors, i)
			}
		}
		if air == 0 || len(y.irregular.at) == 0 || len(y.uniform) == 0 {
			t.Errorf("vectors %v: %d cells of air in %d runs and %d odd groups", vectors, air, len(y.uniform), len(y.irregular.at))
		}
	}
}

// A run that is told to stop does so within the next few steps, and within one cell
// where it has come to the transform.
func TestRunStopsAtOnce(t *testing.T) {
	t.Parallel()
	e, err := New(den(), coarse, Settings{Cell: 0.15})
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	q := e.request([]weighted{{e.record[0], 1}})
	told := false
	q.Progress = func(float64) { cancel(); told = true }
	r, err := e.system.Run(ctx, e.blocks, q)
	if !errors.Is(err, context.Canceled) || !told || len(r.frames) > 2 {
		t.Errorf("told %v, the run ended after %d records with %v", told, len(r.frames), err)
	}
}

// Where a run ends by default against one that goes on for 40 dB more: the tail that
// is left out counts for less than 0.05 dB rms.
func TestFall(t *testing.T) {
	t.Parallel()
	scene, settings := treatedRoom()
	settings.Cell, settings.Zones = 0.2, around(r3.Vec{X: 0.8, Y: 1.1, Z: 1})
	field := func(fall model.Level) *Field {
		settings.Fall = fall
		e, err := New(scene, coarse, settings)
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
	if rms := levelError(coarse, short.Transfer(nil, source), long.Transfer(nil, source), 250); rms > 0.05 {
		t.Errorf("%.3f dB rms", rms)
	}
}

// The change between two records against the sum as it is written.
func TestChange(t *testing.T) {
	t.Parallel()
	for n := range 10 {
		a, b, want := make([]float32, n), make([]float32, n), 0.0
		for i := range a {
			a[i], b[i] = float32(i), float32(3*i-4)
			want += float64((4 - 2*i) * (4 - 2*i))
		}
		if got := change(a, b); got != want {
			t.Errorf("%d values: %v, want %v", n, got, want)
		}
	}
}

// The blend of this build against the sum as it is written, at lengths that fours do
// not fit.
func TestAddTimes(t *testing.T) {
	t.Parallel()
	for n := range 10 {
		x, y, want := make([]complex64, n), make([]complex64, n), make([]complex64, n)
		for i := range x {
			x[i], y[i] = complex(float32(i+1), float32(-i)), complex(2, float32(i))
			want[i] = y[i] + 0.25*x[i]
		}
		addTimes(y, 0.25, x)
		if !slices.Equal(y, want) {
			t.Errorf("%d values: %v, want %v", n, y, want)
		}
	}
}

package march

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model/wave/lattice"
	"evenbass/model/wave/vector"
	"evenbass/model/wave/wavetest"
)

// The kernels of this build against one another over a whole run: the answers of a
// treated room of any shape are the same. The widths are such that the last group
// of a row is full, has one cell, and has all but one.
func TestKernelsAgree(t *testing.T) {
	t.Parallel()
	if !vector.Available() {
		t.Skip("this build, or this machine, has the portable kernels only")
	}
	for _, cells := range []float64{24, 25, 23} {
		t.Run(fmt.Sprintf("%v cells in a row", cells), func(t *testing.T) {
			t.Parallel()
			s := wavetest.Packed()
			m := lattice.New(&s, s.Size.X/cells)
			var frames [2][]complex128
			for i := range frames {
				y := New(m, i == 0)
				r := runFrom(t, y, r3.Vec{X: 1.62, Y: 1.47, Z: 1.21}, 2)
				for _, frame := range r.Frames {
					for _, p := range frame {
						frames[i] = append(frames[i], complex(float64(p), 0))
					}
				}
			}
			if d := wavetest.Difference(frames[0], frames[1]); d > 1e-5 {
				t.Errorf("the kernels differ by %.2g", d)
			}
		})
	}
}

// runFrom runs a system from a place for a time in s and records all cells.
func runFrom(t *testing.T, s *System, place r3.Vec, seconds float64) *Record {
	t.Helper()
	source, ok := s.Interpolation(place, 5, nil)
	if !ok {
		t.Fatalf("%v is not in the air", place)
	}
	r, err := s.Run(t.Context(), new(Blocks), Request{
		Source: source, Cells: s.Within(nil), Lowest: 25, Highest: 250, Fall: 300, Longest: seconds,
	})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// Every cell of air is marched once, as a uniform or as an irregular one, by either kernel.
func TestEachCellOnce(t *testing.T) {
	t.Parallel()
	s := wavetest.Packed()
	m := lattice.New(&s, 0.11)
	for _, vectors := range []bool{false, vector.Available()} {
		y := New(m, vectors)
		times := make([]int, m.Size)
		for _, r := range y.uniform {
			for i := r.from; i < r.to; i++ {
				times[i]++
			}
		}
		if vectors { // runs are whole groups
			for i, c := range y.classify() {
				if c == ghost {
					times[i] = 0
				}
			}
		}
		irregular := slices.Concat(y.irregular.hot.list, y.irregular.drag.list, y.irregular.plain.list)
		for _, g := range irregular {
			for l := range vector.Lanes {
				if g.kind.lanes>>l&1 != 0 {
					times[g.at+l]++
				}
			}
		}
		air := 0
		m.Each(func(i int, c [3]int) {
			want := 0
			if !m.Solid(i) {
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
		if air == 0 || len(irregular) == 0 || len(y.uniform) == 0 {
			t.Errorf("vectors %v: %d cells of air in %d runs and %d irregular groups", vectors, air, len(y.uniform), len(irregular))
		}
	}
}

// A run that is cancelled stops before the next record.
func TestRunStopsAtOnce(t *testing.T) {
	t.Parallel()
	s := wavetest.Den()
	y := New(lattice.New(&s, 0.15), vector.Available())
	ctx, cancel := context.WithCancel(t.Context())
	cells := y.Within(nil)
	told := false
	r, err := y.Run(ctx, new(Blocks), Request{
		Source: []lattice.Weight{{Cell: cells[0], Share: 1}}, Cells: cells, Lowest: 25, Highest: 250, Fall: 70, Longest: 1,
		Progress: func(string, float64) { cancel(); told = true },
	})
	if !errors.Is(err, context.Canceled) || !told || len(r.Frames) > 0 {
		t.Errorf("told %v, the run ended after %d records with %v", told, len(r.Frames), err)
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

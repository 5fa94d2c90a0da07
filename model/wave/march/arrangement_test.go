package march

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"evenbass/model/wave/lattice"
	"evenbass/model/wave/vector"
	"evenbass/model/wave/wavetest"
)

// Whatever the cells, and wherever groups begin: each cell is in one group, no two groups share a
// place of the array, and a lane is marched once if its cell has air and never otherwise. The arrangement
// chosen takes at most a twentieth longer than any other.
func TestArrangements(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		number := rapid.IntRange(1, 40).Draw(t, "cells in a row")
		l := lattice.NewCells(r3.Vec{X: float64(number), Y: 3, Z: 2}, 1)
		s := System{Medium: &lattice.Medium{Cells: l}, vectors: rapid.Bool().Draw(t, "vectors")}
		classes := make([]class, l.Size)
		l.Each(func(i int, _ [3]int) {
			classes[i] = rapid.SampledFrom([]class{solid, uniform, uniform, irregular}).Draw(t, "class")
		})
		chosen := s.time(s.arrange(classes), classes)
		for _, a := range s.arrangements() {
			if time := s.time(a, classes); time < chosen-chosen/20 {
				t.Errorf("%+v takes %d, and one that takes %d was chosen", a, time, chosen)
			}
			grouped, marched := make([]int, l.Size), make([]int, l.Size)
			s.eachGroup(a, func(first int) {
				plain, other := s.split(first, classes)
				for n := range vector.Lanes {
					grouped[first+n]++
					marched[first+n] += int(plain>>n&1) + int(other>>n&1)
				}
			})
			for i, c := range classes {
				if grouped[i] > 1 || c != ghost && grouped[i] != 1 {
					t.Fatalf("%+v: cell %d is in %d groups", a, i, grouped[i])
				}
				want := 0
				if c == uniform || c == irregular {
					want = 1
				}
				if marched[i] != want {
					t.Fatalf("%+v: cell %d of class %d is marched %d times", a, i, c, marched[i])
				}
			}
		}
	})
}

// Wherever groups begin a room with wool answers the same within rounding, by either kernel. No cell gives
// weight to the ghosts that only fill up groups: with huge values in them no bit changes.
func TestSpareGhosts(t *testing.T) {
	t.Parallel()
	s := wavetest.Packed()
	m := lattice.New(&s, s.Size.X/24)
	var first [][]float32
	for _, vectors := range []bool{false, vector.Available()} {
		y := New(m, vectors)
		all := y.arrangements()
		if vectors && len(all) != vector.Lanes {
			t.Fatalf("groups may begin at %v", all)
		}
		for _, a := range all {
			y := &System{Medium: m, Step: y.Step, vectors: vectors, rows: a}
			y.assemble(y.classify())
			want, got := runWithGhosts(t, y, 0), runWithGhosts(t, y, 1e9)
			if !slices.EqualFunc(got, want, slices.Equal) {
				t.Errorf("vectors %v, %+v: a cell gives weight to a spare ghost", vectors, a)
			}
			if first == nil {
				first = want
			}
			var most, worst float64
			for n, frame := range want {
				for i, p := range frame {
					most, worst = max(most, math.Abs(float64(p))), max(worst, math.Abs(float64(p-first[n][i])))
				}
			}
			if worst > 1e-5*most {
				t.Errorf("vectors %v, %+v: off by %.2g of %.2g", vectors, a, worst, most)
			}
		}
	}
}

// runWithGhosts returns the frames of a short run that begins with a value in each spare ghost.
func runWithGhosts(t *testing.T, s *System, ghost float32) [][]float32 {
	t.Helper()
	cells := s.Within(nil)
	r := s.newRun(new(Blocks), Request{
		Source: []lattice.Weight{{Cell: cells[0], Share: 1}}, Cells: cells, Lowest: 25, Highest: 250, Fall: 300, Longest: 0.1,
	})
	for k := -1; k <= s.N[2]; k++ {
		for j := -1; j <= s.N[1]; j++ {
			for i := s.N[0] + 1; i < s.Stride[1]-1; i++ {
				at := s.At(i, j, k)
				r.now[at], r.next[at] = ghost, ghost
			}
		}
	}
	if err := r.march(t.Context()); err != nil {
		t.Fatal(err)
	}
	return r.Frames
}

package march

import (
	"math"
	"slices"
	"testing"

	"evenbass/model/wave/lattice"
	"evenbass/model/wave/vector"
	"evenbass/model/wave/wavetest"
)

// No cell reads the ghosts that only fill up a row's last group: with nothing but NaN in them a room
// with wool answers as ever, by either kernel.
func TestSpareGhosts(t *testing.T) {
	t.Parallel()
	s := wavetest.Packed()
	m := lattice.New(&s, s.Size.X/24)
	spare := m.Stride[1] - m.N[0] - 2
	if spare == 0 {
		t.Fatal("a row without spare ghosts")
	}
	for _, vectors := range []bool{false, vector.Available()} {
		y := New(m, vectors)
		cells := y.Within(nil)
		run := func(ghost float32) [][]float32 {
			r := y.newRun(new(Blocks), Request{
				Source: []lattice.Weight{{Cell: cells[0], Share: 1}}, Cells: cells, Lowest: 25, Highest: 250, Fall: 300, Longest: 0.1,
			})
			for k := -1; k <= m.N[2]; k++ {
				for j := -1; j <= m.N[1]; j++ {
					for i := range spare {
						at := m.At(m.N[0]+1+i, j, k)
						r.now[at], r.next[at] = ghost, ghost
					}
				}
			}
			if err := r.march(t.Context()); err != nil {
				t.Fatal(err)
			}
			return r.Frames
		}
		if want, got := run(0), run(float32(math.NaN())); !slices.EqualFunc(got, want, slices.Equal) {
			t.Errorf("vectors %v: the frames differ", vectors)
		}
	}
}

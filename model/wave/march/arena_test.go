package march

import (
	"slices"
	"testing"

	"evenbass/model/wave/lattice"
	"evenbass/model/wave/vector"
	"evenbass/model/wave/wavetest"
)

// Frames lie beside one another and never overlap. A released arena hands its blocks on to the
// next, and a frame too large for a block has memory of its own.
func TestArena(t *testing.T) {
	t.Parallel()
	blocks := new(Blocks)
	first := arena{blocks: blocks}
	const n = 100_000
	var frames [][]float32
	for i := range 5 {
		f := first.frame(n)
		if len(f) != n || cap(f) != n {
			t.Fatalf("a frame of %d numbers, with room for %d", len(f), cap(f))
		}
		for k := range f {
			f[k] = float32(i)
		}
		frames = append(frames, f)
	}
	for i, f := range frames {
		if f[0] != float32(i) || f[n-1] != float32(i) {
			t.Errorf("frame %d holds %v to %v", i, f[0], f[n-1])
		}
	}
	if len(first.used) != 3 {
		t.Errorf("%d blocks for 5 frames, two of which fill one", len(first.used))
	}
	if big := first.frame(1 << 19); len(big) != 1<<19 || len(first.used) != 3 {
		t.Errorf("a frame of %d numbers, %d blocks", len(big), len(first.used))
	}
	first.release()
	if len(first.used) != 0 || first.left != nil || first.blocks != blocks {
		t.Error("a released arena holds on to something")
	}
}

// Runs one after another on one another's memory answer as runs on memory of their own.
func TestRunsOnUsedMemory(t *testing.T) {
	t.Parallel()
	s := wavetest.Den()
	y := New(lattice.New(&s, 0.2), vector.Available())
	cells, blocks := y.Within(nil), new(Blocks)
	run := func(b *Blocks, from int32) *Record {
		r, err := y.Run(t.Context(), b, Request{
			Source: []lattice.Weight{{Cell: from, Share: 1}}, Cells: cells, Lowest: 25, Highest: 250, Fall: 70, Longest: 0.5,
		})
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	for _, from := range cells[10:12] {
		run(blocks, from).Release()
	}
	own, used := run(new(Blocks), cells[0]), run(blocks, cells[0])
	if !slices.EqualFunc(own.Frames, used.Frames, slices.Equal) {
		t.Error("the frames differ")
	}
}

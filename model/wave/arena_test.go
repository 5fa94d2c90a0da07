package wave

import "testing"

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
	e := quick(t, study())
	seat := e.room.Size
	seat.X, seat.Y, seat.Z = 1.9, 1.2, 1.2
	source := seat
	source.X = 0.7
	own, err := quick(t, study()).Field(seat)
	if err != nil {
		t.Fatal(err)
	}
	other := seat
	other.X = 2.2
	for range 2 { // what is kept for the seat is passed by
		if _, err := e.Run(t.Context(), other); err != nil {
			t.Fatal(err)
		}
	}
	f, err := e.Run(t.Context(), seat)
	if err != nil {
		t.Fatal(err)
	}
	if d := apart(own.Transfer(nil, source), f.Transfer(nil, source)); d != 0 {
		t.Errorf("differs by %v", d)
	}
}

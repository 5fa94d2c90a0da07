package wave

import "sync"

// tapeBlock is a piece of memory to record on.
type tapeBlock [1 << 18]float32

// tape is what a run records on. A run takes some 10 to 30 MB, which the system gives and
// clears page by page, so that runs hand their blocks on to those after them.
type tape struct {
	blocks *sync.Pool // of *tapeBlock
	used   []*tapeBlock
	left   []float32 // of the last of them
}

// newBlocks returns a store of blocks. What lies there unused, the collector takes.
func newBlocks() *sync.Pool { return &sync.Pool{New: func() any { return new(tapeBlock) }} }

// frame returns room for n numbers, which may hold anything.
func (t *tape) frame(n int) []float32 {
	if n > len(tapeBlock{}) {
		return make([]float32, n)
	}
	if len(t.left) < n {
		block := t.blocks.Get().(*tapeBlock)
		t.used, t.left = append(t.used, block), block[:]
	}
	f := t.left[:n:n]
	t.left = t.left[n:]
	return f
}

// release hands the blocks on: the frames are not to be used any more.
func (t *tape) release() {
	for _, b := range t.used {
		t.blocks.Put(b)
	}
	*t = tape{blocks: t.blocks}
}

package march

import "sync"

// block is a piece of memory for frames.
type block [1 << 18]float32

// Blocks is memory that one run hands on to the next. A run uses some 10 to 30 MB, which would
// otherwise be allocated and cleared page by page. The garbage collector frees what lies unused.
// The zero value is ready for use.
type Blocks struct{ pool sync.Pool } // of *block

// get returns a block with arbitrary contents.
func (b *Blocks) get() *block {
	if old, ok := b.pool.Get().(*block); ok {
		return old
	}
	return new(block)
}

// arena gives memory to the frames of one record.
type arena struct {
	blocks *Blocks
	used   []*block
	left   []float32 // unused rest of the last block
}

// frame returns room for n numbers, with arbitrary contents.
func (a *arena) frame(n int) []float32 {
	if n > len(block{}) {
		return make([]float32, n)
	}
	if len(a.left) < n {
		b := a.blocks.get()
		a.used, a.left = append(a.used, b), b[:]
	}
	f := a.left[:n:n]
	a.left = a.left[n:]
	return f
}

// release hands the blocks on. The frames must not be used any more.
func (a *arena) release() {
	for _, b := range a.used {
		a.blocks.pool.Put(b)
	}
	*a = arena{blocks: a.blocks}
}

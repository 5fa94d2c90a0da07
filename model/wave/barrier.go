package wave

import (
	"sync"
	"sync/atomic"
)

// barrier holds n goroutines back until all have come. A step takes some 50 µs
// only, and to be woken from sleep takes as long, so it spins for about that time
// before it sleeps. Where another program holds a core, spinning for ever would
// burn the other.
type barrier struct {
	n     int32
	count atomic.Int32
	round atomic.Int32

	mutex sync.Mutex
	moved sync.Cond
}

// spins is how often the barrier looks before it sleeps: some 100 µs.
const spins = 200000

func newBarrier(n int) *barrier {
	b := &barrier{n: int32(n)}
	b.moved.L = &b.mutex
	return b
}

func (b *barrier) wait() {
	if b.n == 1 {
		return
	}
	round := b.round.Load()
	if b.count.Add(1) == b.n {
		b.count.Store(0)
		b.mutex.Lock()
		b.round.Add(1)
		b.mutex.Unlock()
		b.moved.Broadcast()
		return
	}
	for range spins {
		if b.round.Load() != round {
			return
		}
	}
	b.mutex.Lock()
	for b.round.Load() == round {
		b.moved.Wait()
	}
	b.mutex.Unlock()
}

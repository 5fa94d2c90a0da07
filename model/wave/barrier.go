package wave

import (
	"sync"
	"sync/atomic"
)

// barrier holds n goroutines back until all have come. A step takes some 30 µs
// only, and to be woken from sleep takes longer, so it spins for a while before it
// sleeps. Where another program holds a core, spinning for ever would burn the other.
type barrier struct {
	n     int32
	count atomic.Int32 // have come
	round atomic.Int32

	mutex    sync.Mutex
	moved    sync.Cond
	sleepers atomic.Int32
	slept    atomic.Int32 // how often somebody had to sleep
}

// spins is how often the barrier looks before it sleeps: some 50 µs.
const spins = 100000

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
		b.round.Add(1)
		// Who counts as a sleeper later than this sees the new round before it sleeps.
		if b.sleepers.Load() > 0 {
			b.mutex.Lock()
			b.moved.Broadcast()
			b.mutex.Unlock()
		}
		return
	}
	for range spins {
		if b.round.Load() != round {
			return
		}
	}
	b.sleep(round)
}

// sleep waits for the end of a round without spinning.
func (b *barrier) sleep(round int32) {
	b.slept.Add(1)
	b.mutex.Lock()
	b.sleepers.Add(1)
	for b.round.Load() == round {
		b.moved.Wait()
	}
	b.sleepers.Add(-1)
	b.mutex.Unlock()
}

// hampered reports whether others have had to sleep so often in a number of steps that
// one goroutine would have come further: another program holds the cores.
func (b *barrier) hampered(steps int) bool { return int(b.slept.Load()) > 4+steps/64 }

//go:build goexperiment.simd && amd64

package wave

import (
	"simd/archsimd"
	"unsafe"
)

// march takes the batches of a part one step, as portable does.
func (g *wallGroup) march(vectors bool, m *wallMotion, next, now []float32, part []stretch) {
	if !vectors {
		g.portable(m, next, now, part)
		return
	}
	// What is not done by vectors comes before and after them: each waits for the upper
	// halves of the registers to be cleared.
	g.collect(m, now, part)
	for _, s := range part {
		in, out, cells := g.ends(m, next, now, s)
		g.vector(&g.kinds[s.kind], m.motion(len(g.branches), s), in, out, cells)
	}
	archsimd.ClearAVXUpperBits()
	g.release(m, next, part)
}

// vector is portable for batches of one kind, one at a time.
func (g *wallGroup) vector(k *wallKind, motion []branchMotion, now, next []float32, cells []int32) {
	sum := read8(&g.sum)
	gain, air, share := read8(&k.gain), read8(&k.air), read8(&k.share)
	last := cells[len(cells)-1] + lanes - 1
	_, _, _ = now[last], next[last], motion[len(cells)*len(g.branches)-1]
	in, out, first := unsafe.Pointer(&now[0]), unsafe.Pointer(&next[0]), unsafe.Pointer(&motion[0])
	size := motionSize * len(g.branches)
	for n, cell := range cells {
		at, moving := 4*int(cell), unsafe.Add(first, size*n)
		p := load8(unsafe.Add(in, at))
		flow := sum.Mul(p)
		for b := range g.branches {
			flow = flow.Sub(read8(&motionAt(moving, b).w))
		}
		flow = flow.Mul(share)
		p = p.Sub(air.Mul(flow))
		for b := range g.branches {
			g.branches[b].vector(p, motionAt(moving, b))
		}
		left := load8(unsafe.Add(out, at)).Sub(gain.Mul(flow))
		left.Store((*[lanes]float32)(unsafe.Add(out, at)))
	}
}

const motionSize = int(unsafe.Sizeof(branchMotion{}))

// motionAt returns what moves in branch b of the batch whose motion begins at p.
func motionAt(p unsafe.Pointer, b int) *branchMotion {
	return (*branchMotion)(unsafe.Add(p, motionSize*b))
}

// vector moves one branch of a batch under the pressure at the wall.
func (b *wallBranch) vector(p archsimd.Float32x8, m *branchMotion) {
	w := read8(&m.w)
	change := read8(&b.g).Mul(p).Sub(w)
	w = read8(&b.r).MulAdd(change, w)
	if b.springs {
		u := read8(&m.u).Add(change)
		u.Store((*[lanes]float32)(&m.u))
		w = read8(&b.k).MulAdd(u, w)
	}
	w.Store((*[lanes]float32)(&m.w))
}

//go:build goexperiment.simd && amd64

package march

import (
	"simd/archsimd"
	"unsafe"

	"evenbass/model/wave/vector"
)

// march takes batches one step, as portable does.
func (w *wallGroup) march(vectors bool, batches []group[wallKind], motion []octet, in, out []float32) {
	if !vectors {
		w.portable(batches, motion, in, out)
		return
	}
	if len(batches) > 0 {
		w.vector(batches, motion, in, out)
		archsimd.ClearAVXUpperBits()
	}
}

const octetSize = int(unsafe.Sizeof(octet{}))

// vector is portable, a batch at a time.
func (w *wallGroup) vector(batches []group[wallKind], motion []octet, in, out []float32) {
	sum := read8(&w.sum)
	// All reads and writes lie between the starts of the slices and these.
	last := batches[len(batches)-1].at + vector.Lanes - 1
	_, _, _ = in[last], out[last], motion[len(batches)*w.size()-1]
	from, to, first := unsafe.Pointer(&in[0]), unsafe.Pointer(&out[0]), unsafe.Pointer(&motion[0])
	springs, plain := w.branches[:w.springs], w.branches[w.springs:]
	moving := 0 // an offset, since no pointer may lie beyond the last element
	for _, b := range batches {
		k, at, all := b.kind, 4*b.at, (*[vector.Lanes]float32)(unsafe.Add(first, moving))
		p := vector.Load(unsafe.Add(from, at))
		flow := sum.MulAdd(p, archsimd.LoadFloat32x8(all)).Mul(read8(&k.share))
		read8(&k.gain).MulAdd(flow, vector.Load(unsafe.Add(to, at))).Store((*[vector.Lanes]float32)(unsafe.Add(to, at)))
		p = read8(&k.air).MulAdd(flow, p) // at the wall
		var given archsimd.Float32x8
		moving += octetSize
		for i := range springs {
			c, w, u := &springs[i], (*octet)(unsafe.Add(first, moving)), (*octet)(unsafe.Add(first, moving+octetSize))
			give := read8(w)
			change := read8(&c.g).MulAdd(p, give)
			path := read8(u).Add(change)
			path.Store((*[vector.Lanes]float32)(u))
			give = read8(&c.k).MulAdd(path, read8(&c.r).MulAdd(change, give))
			give.Store((*[vector.Lanes]float32)(w))
			given = given.Add(give)
			moving += 2 * octetSize
		}
		for i := range plain {
			c, w := &plain[i], (*octet)(unsafe.Add(first, moving))
			give := read8(w)
			give = read8(&c.r).MulAdd(read8(&c.g).MulAdd(p, give), give)
			give.Store((*[vector.Lanes]float32)(w))
			given = given.Add(give)
			moving += octetSize
		}
		given.Store(all)
	}
}

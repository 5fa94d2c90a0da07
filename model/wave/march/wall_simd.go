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

const (
	octetSize  = int(unsafe.Sizeof(octet{}))
	branchSize = int(unsafe.Sizeof(wallBranch{}))
)

// vector is portable, a batch at a time.
func (w *wallGroup) vector(batches []group[wallKind], motion []octet, in, out []float32) {
	// All reads and writes lie between the starts of the slices and these.
	last := batches[len(batches)-1].at + vector.Lanes - 1
	_, _, _ = in[last], out[last], motion[len(batches)*w.size()-1]
	w.walk(batches, unsafe.Pointer(&in[0]), unsafe.Pointer(&out[0]), unsafe.Pointer(&motion[0]))
}

// walk takes batches one step. from and to are the starts of the pressures, m is that of the motion
// behind the batches. Pointers that walk over motion and branches keep the processor from computing
// addresses.
func (w *wallGroup) walk(batches []group[wallKind], from, to, m unsafe.Pointer) {
	sum, first := read8(&w.sum), unsafe.Pointer(unsafe.SliceData(w.branches))
	springs, plain := w.springs, len(w.branches)-w.springs
	for i := range batches {
		k, at := batches[i].kind, 4*batches[i].at
		all, p, cell := m, vector.Load(unsafe.Add(from, at)), unsafe.Add(to, at)
		flow := sum.MulAdd(p, vector.Load(all)).Mul(read8(&k.share))
		read8(&k.gain).MulAdd(flow, vector.Load(cell)).Store((*[vector.Lanes]float32)(cell))
		p = read8(&k.air).MulAdd(flow, p) // at the wall
		var given archsimd.Float32x8
		m = unsafe.Add(m, octetSize)
		c := first
		for range springs {
			b, u := (*wallBranch)(c), unsafe.Add(m, octetSize)
			give := vector.Load(m)
			change := read8(&b.g).MulAdd(p, give)
			path := vector.Load(u).Add(change)
			path.Store((*[vector.Lanes]float32)(u))
			give = read8(&b.k).MulAdd(path, read8(&b.r).MulAdd(change, give))
			give.Store((*[vector.Lanes]float32)(m))
			given = given.Add(give)
			m, c = unsafe.Add(m, 2*octetSize), unsafe.Add(c, branchSize)
		}
		for range plain {
			b := (*wallBranch)(c)
			give := vector.Load(m)
			give = read8(&b.r).MulAdd(read8(&b.g).MulAdd(p, give), give)
			give.Store((*[vector.Lanes]float32)(m))
			given = given.Add(give)
			m, c = unsafe.Add(m, octetSize), unsafe.Add(c, branchSize)
		}
		given.Store((*[vector.Lanes]float32)(all))
	}
}

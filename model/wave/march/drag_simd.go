//go:build goexperiment.simd && amd64

package march

import (
	"simd/archsimd"
	"unsafe"

	"evenbass/model/wave/vector"
)

// march computes the flow through a part of the groups, as portable does.
func (f *dragFaces) march(vectors bool, flow, was, is, now []float32, part []stretch) {
	if !vectors {
		f.portable(flow, was, is, now, part)
		return
	}
	for _, s := range part {
		f.vector(flow, was, is, now, s)
	}
	archsimd.ClearAVXUpperBits()
}

// vector is portable for one stretch, a group at a time.
func (f *dragFaces) vector(flow, was, is, now []float32, s stretch) {
	cells := f.cells(s)
	// All reads and writes lie between these.
	low, high := int(cells[0])-f.stride, int(cells[len(cells)-1])+f.stride+vector.Lanes-1
	_, _, _, _, _, _ = now[low], now[high], was[low], was[high], is[high], flow[high]
	f.kinds[s.kind].march(cells, unsafe.Pointer(&flow[0]), unsafe.Pointer(&was[0]), unsafe.Pointer(&is[0]), unsafe.Pointer(&now[0]), 4*f.stride)
}

// march takes groups of one kind one step. The pointers are the starts of the arrays, step is the
// stride in bytes.
func (k *dragKind) march(cells []int32, flow, was, is, now unsafe.Pointer, step int) {
	keep, a, e, c, d := read8(&k.k), read8(&k.a), read8(&k.e), read8(&k.c), read8(&k.d)
	low, high := read8(&k.couplingLow), read8(&k.couplingHigh)
	for _, cell := range cells {
		at := 4 * int(cell)
		here, pressure := unsafe.Add(was, at), unsafe.Add(now, at)
		slip := vector.Load(here)
		p := vector.Load(pressure).Sub(vector.Load(unsafe.Add(pressure, step)))
		tie := low.Mul(slip.Sub(vector.Load(unsafe.Add(here, -step))))
		tie = high.MulAdd(slip.Sub(vector.Load(unsafe.Add(here, step))), tie)
		then := e.MulAdd(tie, a.MulAdd(p, keep.Mul(slip)))
		then.Store((*[vector.Lanes]float32)(unsafe.Add(is, at)))
		change := c.Mul(p.Add(tie)).Sub(d.Mul(slip.Add(then)))
		change.Store((*[vector.Lanes]float32)(unsafe.Add(flow, at)))
	}
}

//go:build goexperiment.simd && amd64

package march

import (
	"simd/archsimd"
	"unsafe"

	"evenbass/model/wave/vector"
)

// march computes the flow through all groups, as portable does.
func (f *dragFaces) march(vectors bool, flow, was, is, now []float32) {
	if !vectors {
		f.portable(flow, was, is, now)
		return
	}
	if len(f.list) > 0 {
		f.vector(flow, was, is, now)
		archsimd.ClearAVXUpperBits()
	}
}

// vector is portable, a group at a time.
func (f *dragFaces) vector(flow, was, is, now []float32) {
	// All reads and writes lie between these.
	low, high := f.first-f.stride, f.last+f.stride+vector.Lanes-1
	_, _, _, _, _, _ = now[low], now[high], was[low], was[high], is[high], flow[high]
	marchDrag(f.list, unsafe.Pointer(&flow[0]), unsafe.Pointer(&was[0]), unsafe.Pointer(&is[0]), unsafe.Pointer(&now[0]), 4*f.stride)
}

// marchDrag takes groups one step. The pointers are the starts of the arrays, step is the stride in
// bytes.
func marchDrag(list []group[dragKind], flow, was, is, now unsafe.Pointer, step int) {
	var k *dragKind
	var keep, a, e, c, d, low, high archsimd.Float32x8
	for i := range list {
		if list[i].kind != k { // most groups follow one of their kind
			k = list[i].kind
			keep, a, e, c, d = read8(&k.k), read8(&k.a), read8(&k.e), read8(&k.c), read8(&k.d)
			low, high = read8(&k.couplingLow), read8(&k.couplingHigh)
		}
		at := 4 * list[i].at
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

//go:build goexperiment.simd && amd64

package spectrum

import (
	"simd/archsimd"
	"unsafe"

	"evenbass/model/wave/vector"
)

// foldGroup is portableFoldGroup with eight cells to a vector.
func foldGroup(even, odd, late, early []float32, v, w float32) {
	if !vector.Available() {
		portableFoldGroup(even, odd, late, early, v, w)
		return
	}
	a, b := archsimd.BroadcastFloat32x8(v), archsimd.BroadcastFloat32x8(w)
	for i := 0; i < groupCells; i += vector.Lanes {
		x, y := a.Mul(archsimd.LoadFloat32x8Slice(late[i:])), b.Mul(archsimd.LoadFloat32x8Slice(early[i:]))
		x.Add(y).StoreSlice(even[i:])
		x.Sub(y).StoreSlice(odd[i:])
	}
	archsimd.ClearAVXUpperBits()
}

// groupSums is portableGroupSums with eight cells to a vector.
func groupSums(dst *[blockPhases][groupCells]float32, group, block []float32) {
	rows := len(group) / groupCells
	if rows == 0 || !vector.Available() {
		portableGroupSums(dst, group, block)
		return
	}
	_ = block[rows*blockPhases-1]
	x, t := unsafe.Pointer(&group[0]), unsafe.Pointer(&block[0])
	var a0, a1, a2, a3, b0, b1, b2, b3 archsimd.Float32x8
	for k := range rows {
		cells, turns := unsafe.Add(x, 4*groupCells*k), (*[blockPhases]float32)(unsafe.Add(t, 4*blockPhases*k))
		a, b := vector.Load(cells), vector.Load(unsafe.Add(cells, 4*vector.Lanes))
		w := archsimd.BroadcastFloat32x8(turns[0])
		a0, b0 = w.MulAdd(a, a0), w.MulAdd(b, b0)
		w = archsimd.BroadcastFloat32x8(turns[1])
		a1, b1 = w.MulAdd(a, a1), w.MulAdd(b, b1)
		w = archsimd.BroadcastFloat32x8(turns[2])
		a2, b2 = w.MulAdd(a, a2), w.MulAdd(b, b2)
		w = archsimd.BroadcastFloat32x8(turns[3])
		a3, b3 = a.MulAdd(w, a3), b.MulAdd(w, b3)
	}
	for p, sums := range [blockPhases][2]archsimd.Float32x8{{a0, b0}, {a1, b1}, {a2, b2}, {a3, b3}} {
		sums[0].Store((*[vector.Lanes]float32)(dst[p][:vector.Lanes]))
		sums[1].Store((*[vector.Lanes]float32)(dst[p][vector.Lanes:]))
	}
	archsimd.ClearAVXUpperBits()
}

// AddTimes adds w x to y, which has the same length, four values at a time.
func AddTimes(y []complex64, w float32, x []complex64) {
	whole := 0
	if vector.Available() {
		whole = len(x) / 4 * 4
		weight := archsimd.BroadcastFloat32x8(w)
		for i := 0; i < whole; i += 4 {
			to := (*[vector.Lanes]float32)(unsafe.Pointer(&y[i]))
			weight.MulAdd(vector.Load(unsafe.Pointer(&x[i])), archsimd.LoadFloat32x8(to)).Store(to)
		}
		archsimd.ClearAVXUpperBits()
	}
	portableAddTimes(y[whole:], w, x[whole:])
}

//go:build goexperiment.simd && amd64

package wave

import (
	"simd/archsimd"
	"unsafe"
)

// groupSums is portableGroupSums with eight cells to a vector.
func groupSums(dst *[blockPhases][groupCells]float32, group, block []float32) {
	rows := len(group) / groupCells
	if rows == 0 || !hasVectors() {
		portableGroupSums(dst, group, block)
		return
	}
	_ = block[rows*blockPhases-1]
	x, t := unsafe.Pointer(&group[0]), (*[blockPhases]float32)(block)
	var a0, a1, a2, a3, b0, b1, b2, b3 archsimd.Float32x8
	for k := range rows {
		turns := (*[blockPhases]float32)(unsafe.Add(unsafe.Pointer(t), 4*blockPhases*k))
		a, b := load8(unsafe.Add(x, 4*groupCells*k)), load8(unsafe.Add(x, 4*groupCells*k+4*lanes))
		w := archsimd.BroadcastFloat32x8(turns[0])
		a0, b0 = w.MulAdd(a, a0), w.MulAdd(b, b0)
		w = archsimd.BroadcastFloat32x8(turns[1])
		a1, b1 = w.MulAdd(a, a1), w.MulAdd(b, b1)
		w = archsimd.BroadcastFloat32x8(turns[2])
		a2, b2 = w.MulAdd(a, a2), w.MulAdd(b, b2)
		w = archsimd.BroadcastFloat32x8(turns[3])
		a3, b3 = w.MulAdd(a, a3), w.MulAdd(b, b3)
	}
	for p, sums := range [blockPhases][2]archsimd.Float32x8{{a0, b0}, {a1, b1}, {a2, b2}, {a3, b3}} {
		sums[0].Store((*[lanes]float32)(dst[p][:lanes]))
		sums[1].Store((*[lanes]float32)(dst[p][lanes:]))
	}
	archsimd.ClearAVXUpperBits()
}

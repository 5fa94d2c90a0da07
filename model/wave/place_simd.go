//go:build goexperiment.simd && amd64

package wave

import (
	"simd/archsimd"
	"unsafe"
)

// addTimes adds w x to y, which is as long: four values at a time where it can.
func addTimes(y []complex64, w float32, x []complex64) {
	whole := 0
	if hasVectors() {
		whole = len(x) / 4 * 4
		weight := archsimd.BroadcastFloat32x8(w)
		for i := 0; i < whole; i += 4 {
			to := (*[lanes]float32)(unsafe.Pointer(&y[i]))
			weight.MulAdd(load8(unsafe.Pointer(&x[i])), archsimd.LoadFloat32x8(to)).Store(to)
		}
		archsimd.ClearAVXUpperBits()
	}
	portableAddTimes(y[whole:], w, x[whole:])
}

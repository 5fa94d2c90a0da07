//go:build goexperiment.simd && amd64

package table

import (
	"simd/archsimd"
	"unsafe"
)

// hasVectors reports whether this machine adds eight numbers at once.
func hasVectors() bool { return archsimd.X86.AVX2() }

// add4 adds four weighted rows, at least as long as dst, to dst, eight numbers at a time
// where the machine can. It rounds products and sums one by one in the order of
// [portableAdd4], so that a search takes the same path on any machine.
func add4(dst []float32, s *[4]nodeWeight, a, b, c, d []float32) {
	n := len(dst)
	a, b, c, d = a[:n], b[:n], c[:n], d[:n]
	whole := 0
	if hasVectors() {
		whole = n / 8 * 8
		wa, wb := archsimd.BroadcastFloat32x8(float32(s[0].weight)), archsimd.BroadcastFloat32x8(float32(s[1].weight))
		wc, wd := archsimd.BroadcastFloat32x8(float32(s[2].weight)), archsimd.BroadcastFloat32x8(float32(s[3].weight))
		for j := 0; j < whole; j += 8 {
			sum := wa.Mul(eight(&a[j])).Add(wb.Mul(eight(&b[j])))
			sum = sum.Add(wc.Mul(eight(&c[j]))).Add(wd.Mul(eight(&d[j])))
			to := (*[8]float32)(unsafe.Pointer(&dst[j]))
			archsimd.LoadFloat32x8(to).Add(sum).Store(to)
		}
		archsimd.ClearAVXUpperBits()
	}
	portableAdd4(dst[whole:], s, a[whole:], b[whole:], c[whole:], d[whole:])
}

// eight loads eight numbers, beginning with first.
func eight(first *float32) archsimd.Float32x8 {
	return archsimd.LoadFloat32x8((*[8]float32)(unsafe.Pointer(first)))
}

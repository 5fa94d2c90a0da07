//go:build goexperiment.simd && amd64

package vector

import (
	"simd/archsimd"
	"unsafe"
)

// Available reports whether this build and this machine have kernels for eight numbers at once.
func Available() bool { return archsimd.X86.AVX2() && archsimd.X86.FMA() }

// Load reads eight numbers from p on. The caller must know that they exist.
func Load(p unsafe.Pointer) archsimd.Float32x8 {
	return archsimd.LoadFloat32x8((*[Lanes]float32)(p))
}

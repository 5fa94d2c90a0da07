// Package vector reports whether this build and this machine have kernels for eight numbers at once, and
// reads eight numbers. The kernels themselves stand beside the plain Go that they replace, in packages march
// and spectrum.
package vector

// Lanes is the number of cells that a kernel computes side by side.
const Lanes = 8

// Kernel names the kernel of this build and machine. The build flag GOEXPERIMENT=simd gives the
// faster one, on amd64 processors with AVX2 and FMA.
func Kernel() string {
	if Available() {
		return "eight cells at a time"
	}
	return "portable"
}

// Package vector tells whether this build and this machine have kernels for eight numbers at
// once, and reads eight numbers. The kernels themselves stand beside the plain Go that they
// replace, in packages march and spectrum.
package vector

// Lanes is the number of cells that are marched side by side.
const Lanes = 8

// Kernel names what marches the cells in this build and on this machine. The build
// flag GOEXPERIMENT=simd gives the faster one, on processors of the amd64 family
// that have AVX2 and FMA.
func Kernel() string {
	if Available() {
		return "eight cells at a time"
	}
	return "portable"
}

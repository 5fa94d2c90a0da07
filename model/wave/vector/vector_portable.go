//go:build !goexperiment.simd || !amd64

package vector

// Available reports whether this build and this machine have kernels for eight numbers at once.
func Available() bool { return false }

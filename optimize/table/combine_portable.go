//go:build !goexperiment.simd || !amd64

package table

// add4 adds four weighted rows, at least as long as dst, to dst.
func add4(dst []float32, s *[4]nodeWeight, a, b, c, d []float32) { portableAdd4(dst, s, a, b, c, d) }

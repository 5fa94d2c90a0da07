//go:build !goexperiment.simd || !amd64

package table

// hasVectors reports whether this build and this machine add eight numbers at once.
func hasVectors() bool { return false }

// addRows panics: there are no vectors.
func addRows(dst, weights []float32, from []*float32) { panic("table: no vectors") }

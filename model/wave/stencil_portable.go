//go:build !goexperiment.simd || !amd64

package wave

// row marches the cells from..to of one row.
func (s *stencil) row(next, now []float32, from, to int) { s.portable(next, now, from, to) }

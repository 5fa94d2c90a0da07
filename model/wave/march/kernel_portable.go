//go:build !goexperiment.simd || !amd64

package march

func (s *stencil) march(_ bool, next, now []float32, rows []span, t *scratch) {
	s.portable(next, now, rows, t)
}

func (o *irregularCells) march(_ bool, z *state, next, now []float32) {
	o.portable(z, next, now)
}

func (f *dragFaces) march(_ bool, flow, was, is, now []float32) {
	f.portable(flow, was, is, now)
}

func (w *wallGroup) march(_ bool, batches []group[wallKind], motion []octet, in, out []float32) {
	w.portable(batches, motion, in, out)
}

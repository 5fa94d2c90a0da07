//go:build !goexperiment.simd || !amd64

package march

func (s *stencil) march(_ bool, next, now []float32, rows []span, t *scratch) {
	s.portable(next, now, rows, t)
}

func (o *irregularCells) march(_ bool, z *state, next, now []float32, part []stretch) {
	o.portable(z, next, now, part)
}

func (f *dragFaces) march(_ bool, flow, was, is, now []float32, part []stretch) {
	f.portable(flow, was, is, now, part)
}

func (w *wallGroup) march(_ bool, batches []group, motion []octet, in, out []float32) {
	w.portable(batches, motion, in, out)
}

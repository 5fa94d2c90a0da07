//go:build !goexperiment.simd || !amd64

package wave

// hasVectors reports whether this build and this machine have kernels that march
// eight cells at once.
func hasVectors() bool { return false }

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

// addTimes adds w x to y, which is as long.
func addTimes(y []complex64, w float32, x []complex64) { portableAddTimes(y, w, x) }

// foldGroup is portableFoldGroup.
func foldGroup(even, odd, late, early []float32, v, w float32) {
	portableFoldGroup(even, odd, late, early, v, w)
}

// groupSums is portableGroupSums.
func groupSums(dst *[blockPhases][groupCells]float32, group, block []float32) {
	portableGroupSums(dst, group, block)
}

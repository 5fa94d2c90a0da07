//go:build !goexperiment.simd || !amd64

package spectrum

// AddTimes adds w x to y, which has the same length.
func AddTimes(y []complex64, w float32, x []complex64) { portableAddTimes(y, w, x) }

// foldGroup is portableFoldGroup.
func foldGroup(even, odd, late, early []float32, v, w float32) {
	portableFoldGroup(even, odd, late, early, v, w)
}

// groupSums is portableGroupSums.
func groupSums(dst *[blockPhases][groupCells]float32, group, block []float32) {
	portableGroupSums(dst, group, block)
}

//go:build !goexperiment.simd || !amd64

package spectrum

func scale(p *point, cells []float32, w float32) { portableScale(p, cells, w) }

func sumPoints(sum *point, points []point, places *[taps]int32, weights *[taps]float32) {
	portableSumPoints(sum, points, places, weights)
}

func restSums(re, im *point, last []point, weights []complex64) {
	portableRestSums(re, im, last, weights)
}

func quarters(block []point, turns []turn) { portableQuarters(block, turns) }

// AddTimes adds w x to y, which has the same length.
func AddTimes(y []complex64, w float32, x []complex64) { portableAddTimes(y, w, x) }

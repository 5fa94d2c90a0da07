package response

import (
	"fmt"
	"math"

	"evenbass/model"
)

// Between returns how much several seats differ: the standard deviation of their
// smoothed levels at each frequency (of the seats there are, not of a sample),
// averaged over lg f in the goal's band, dB. Levels count as they are, so that a seat
// that is louder all over differs too. It panics if a curve has not the grid's
// length, and returns 0 for fewer than two.
func (r *Reader) Between(curves [][]model.Level) model.Level {
	for _, c := range curves {
		if len(c) != len(r.grid) {
			panic(fmt.Sprintf("response: a curve of %d levels, the grid has %d", len(c), len(r.grid)))
		}
	}
	if len(curves) < 2 {
		return 0
	}
	var sum float64
	for i, w := range r.listed.weight {
		var mean, square float64
		for _, c := range curves {
			mean += float64(c[r.listed.lo+i]) / float64(len(curves))
		}
		for _, c := range curves {
			d := float64(c[r.listed.lo+i]) - mean
			square += d * d / float64(len(curves))
		}
		sum += w * math.Sqrt(square)
	}
	return model.Level(sum)
}

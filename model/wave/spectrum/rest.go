package spectrum

import (
	"context"
	"math/cmplx"

	"evenbass/model/wave/prediction"
)

// addRest adds to the spectra of cells what follows the end of their records, as predicted.
func addRest(ctx context.Context, values []complex64, frames [][]float32, rest prediction.Predictor, phases, gain []complex128) {
	weights, order := restWeights(rest, len(frames), phases, gain)
	cells := len(frames[0])
	last := make([]point, order)
	for first := 0; first < cells && ctx.Err() == nil; first += groupCells {
		count := min(groupCells, cells-first)
		for m := range rest {
			copy(last[m][:], frames[len(frames)-1-m][first:][:count])
		}
		for f := range phases {
			var re, im point
			restSums(&re, &im, last, weights[f*order:][:order])
			for cell := range count {
				values[(first+cell)*len(phases)+f] += complex(re[cell], im[cell])
			}
		}
	}
}

// restWeights returns, by phase, the weights of a record's last values, the latest first, with their turns and
// gains: a number of values that is even, so that two can be summed at a time.
func restWeights(rest prediction.Predictor, length int, phases, gain []complex128) (weights []complex64, order int) {
	order = len(rest) + len(rest)%2
	weights = make([]complex64, order*len(phases))
	var tail []complex128
	for f, phase := range phases {
		tail = rest.Tail(tail[:0], phase)
		factor := gain[f] * cmplx.Exp(-1i*phase*complex(float64(length), 0))
		for m, w := range tail {
			weights[f*order+m] = complex64(factor * w)
		}
	}
	return weights, order
}

// portableRestSums fills re and im with the weighted sums of the last values of a group of cells.
func portableRestSums(re, im *point, last []point, weights []complex64) {
	*re, *im = point{}, point{}
	for m, w := range weights {
		for i, x := range last[m] {
			re[i] += real(w) * x
			im[i] += imag(w) * x
		}
	}
}

// Package spectrum turns the records of many cells into spectra at frequencies of any spacing.
// [Transform] takes frames of pressures by time and, for each frequency, a phase per frame and a
// factor. It returns complex values, cell by cell. What follows the last frame may be predicted.
//
// At real phases a non-uniform fast transform does it: with vectors for sixteen cells at once in single
// precision, else for one in double precision. Complex phases are summed term by term.
package spectrum

import (
	"context"
	"math"

	"evenbass/model/wave/prediction"
	"evenbass/model/wave/vector"
)

// Transform turns frames by time into the spectrum of each cell,
//
//	X(φ) = gain Σ x[n] e^{-jφn}
//
// at each of the phases in rad per frame, cell after cell. The sum goes on for ever with what is predicted after
// the last frame. Where nothing is, each record is faded out over its last fifth. It stops early when ctx ends.
func Transform(ctx context.Context, frames [][]float32, rest prediction.Predictor, phases, gain []complex128) []complex64 {
	if len(frames) == 0 {
		return nil
	}
	last := len(frames) / 5
	if len(rest) > 0 {
		last = 0
	}
	end := taper(len(frames), last)
	values := make([]complex64, len(frames[0])*len(phases))
	if vector.Available() && lossless(phases) {
		newGrouper(phases, gain, end).transform(ctx, values, frames)
	} else {
		each(ctx, values, frames, end, phases, gain)
	}
	if len(rest) > 0 {
		addRest(ctx, values, frames, rest, phases, gain)
	}
	return values
}

// each transforms cell by cell records that end as the weights say.
func each(ctx context.Context, values []complex64, frames [][]float32, end []float32, phases, gain []complex128) {
	t := newTransformer(phases, len(frames))
	series := make([]float32, len(frames))
	spectrum := make([]complex128, len(phases))
	for cell := 0; cell < len(frames[0]) && ctx.Err() == nil; cell++ {
		for n, frame := range frames {
			series[n] = frame[cell] * end[n]
		}
		t.transform(spectrum, series)
		out := values[cell*len(phases):][:len(phases)]
		for i, x := range spectrum {
			out[i] = complex64(x * gain[i])
		}
	}
}

// taper returns weights that fade a record of n values out over its last ones, so that what is left at the end
// does not leak into all frequencies.
func taper(n, last int) []float32 {
	w := make([]float32, n)
	for i := range w {
		w[i] = 1
		if left := n - i; left <= last {
			s := math.Sin(math.Pi / 2 * (float64(left) - 0.5) / float64(last))
			w[i] = float32(s * s)
		}
	}
	return w
}

// portableAddTimes adds w x to y, which has the same length.
func portableAddTimes(y []complex64, w float32, x []complex64) {
	for i, v := range x {
		y[i] += complex(w*real(v), w*imag(v))
	}
}

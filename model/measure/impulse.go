package measure

import (
	"errors"
	"fmt"
	"math"
	"math/cmplx"

	"evenbass/model"
)

// Impulse is an impulse response, sampled.
type Impulse struct {
	Samples []float64 // re an arbitrary reference
	Rate    float64   // fs, Hz

	// Zero is n0, the sample of time zero. It need not be whole.
	Zero float64

	// Timed reports that time zero is when the speaker sounded. Otherwise it is only where
	// the file begins, or where the sound arrives.
	Timed bool
}

// check reports what makes an impulse response unusable.
func (im *Impulse) check() error {
	switch {
	case len(im.Samples) < 2:
		return errors.New("an impulse response of less than two samples")
	case !(im.Rate > 0) || math.IsInf(im.Rate, 0):
		return fmt.Errorf("a sampling rate of %g Hz", im.Rate)
	case math.IsNaN(im.Zero) || math.Abs(im.Zero) > 1e9:
		return fmt.Errorf("time zero at sample %g", im.Zero)
	}
	silent := true
	for i, v := range im.Samples {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("sample %d is %g", i+1, v)
		}
		silent = silent && v == 0
	}
	if silent {
		return errors.New("an impulse response of silence")
	}
	return nil
}

// Time returns the time of sample n after time zero, s.
func (im *Impulse) Time(n int) float64 { return (float64(n) - im.Zero) / im.Rate }

// Response returns the response at the frequencies of a grid,
//
//	H(f) = Σ x[n] e^{-j2πf(n-n0)/fs}
//
// It counts every sample; cut or fade first what is only noise.
func (im *Impulse) Response(grid model.Grid) []complex128 {
	h := make([]complex128, len(grid))
	for i, f := range grid {
		step := 2 * math.Pi * f / im.Rate
		h[i] = spectrum(im.Samples, step) * cmplx.Rect(1, math.Mod(step*im.Zero, 2*math.Pi))
	}
	return h
}

// block is how many samples are summed before the rotation is computed anew, so that its
// rounding does not build up.
const block = 256

// spectrum returns Σ x[n] e^{-jn·step}.
func spectrum(x []float64, step float64) complex128 {
	turn := cmplx.Rect(1, -step)
	var sum complex128
	for first := 0; first < len(x); first += block {
		var part complex128
		piece := x[first:min(first+block, len(x))]
		for i := len(piece) - 1; i >= 0; i-- { // Horner
			part = part*turn + complex(piece[i], 0)
		}
		sum += part * cmplx.Rect(1, -math.Mod(step*float64(first), 2*math.Pi))
	}
	return sum
}

// Recording is sound as it was recorded, or is to be played.
type Recording struct {
	Rate     float64     // fs, Hz
	Channels [][]float64 // samples; full scale is 1
	Bits     int         // of a sample in the file; 0 is floating point
	Comment  string      // text that travels with the file
	Cut      bool        // the file ended before its header said
}

// Duration returns the length in s.
func (r *Recording) Duration() float64 {
	if len(r.Channels) == 0 || r.Rate == 0 {
		return 0
	}
	return float64(len(r.Channels[0])) / r.Rate
}

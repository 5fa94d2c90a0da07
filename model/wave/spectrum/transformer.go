package spectrum

import (
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/dsp/fourier"
)

// transformer turns a series into its spectrum at phases of any spacing:
//
//	X(φ) = Σ x[n] e^{-jφn}
//
// Real phases use a fast transform of one and a half times the length and a short sum over its
// bins, see [kernel]. Complex ones are summed term by term.
type transformer struct {
	phases []complex128
	*kernel

	fft    *fourier.FFT
	first  []int // by frequency: first bin
	weight [][taps]float64
	middle []complex128 // e^{-jφ} of the middle of the series
	padded []float64
	bins   []complex128
}

// newTransformer prepares transforms of series of a length at the given phases.
func newTransformer(phases []complex128, length int) *transformer {
	t := &transformer{phases: phases}
	if !lossless(phases) {
		return t
	}
	size := smooth(int(math.Ceil(padding * float64(max(length, taps)))))
	t.kernel = newKernel(length, size)
	t.fft = fourier.NewFFT(size)
	t.padded = make([]float64, size)
	t.bins = make([]complex128, size/2+1)
	for _, p := range phases {
		first, weights, middle := t.at(real(p))
		t.first, t.weight, t.middle = append(t.first, first), append(t.weight, weights), append(t.middle, middle)
	}
	return t
}

// lossless reports whether all phases are real.
func lossless(phases []complex128) bool {
	for _, p := range phases {
		if imag(p) != 0 {
			return false
		}
	}
	return true
}

// smooth returns the least even number from n up with no prime factors but 2, 3 and 5, for which
// the fast transform is fast.
func smooth(n int) int {
	for n += n & 1; ; n += 2 {
		rest := n
		for _, p := range [3]int{2, 3, 5} {
			for rest%p == 0 {
				rest /= p
			}
		}
		if rest == 1 {
			return n
		}
	}
}

// transform fills dst, one value per phase, from a series of the prepared length.
func (t *transformer) transform(dst []complex128, series []float32) {
	if t.fft == nil {
		t.sum(dst, series)
		return
	}
	// The middle of the series is at 0, so that the kernels are real.
	middle, size := t.length/2, len(t.padded)
	clear(t.padded)
	for n, x := range series[middle:] {
		t.padded[n] = float64(x) * t.window[middle+n]
	}
	for n, x := range series[:middle] {
		t.padded[size-middle+n] = float64(x) * t.window[n]
	}
	bins := t.fft.Coefficients(t.bins, t.padded)
	for f := range dst {
		dst[f] = t.joined(f, bins) * t.middle[f]
	}
}

// joined sums the bins around a frequency.
func (t *transformer) joined(f int, bins []complex128) complex128 {
	k, first := &t.weight[f], t.first[f]
	var re, im float64
	if first >= 0 && first+taps <= len(bins) {
		for i, b := range bins[first:][:taps] {
			re += k[i] * real(b)
			im += k[i] * imag(b)
		}
		return complex(re, im)
	}
	for i := range k {
		b := bin(bins, first+i, len(t.padded))
		re += k[i] * real(b)
		im += k[i] * imag(b)
	}
	return complex(re, im)
}

// bin returns a coefficient of a real series of the given length. Coefficients beyond the middle
// mirror those before it.
func bin(half []complex128, i, size int) complex128 {
	i = ((i % size) + size) % size
	if i < len(half) {
		return half[i]
	}
	return cmplx.Conj(half[size-i])
}

// sum transforms term by term.
func (t *transformer) sum(dst []complex128, series []float32) {
	for f, p := range t.phases {
		one, at := cmplx.Exp(-1i*p), complex(1, 0)
		var sum complex128
		for _, x := range series {
			sum += complex(float64(x), 0) * at
			at *= one
		}
		dst[f] = sum
	}
}

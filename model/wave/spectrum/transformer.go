package spectrum

import (
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/dsp/fourier"

	"evenbass/model/kaiser"
)

// transformer turns a series into its spectrum at phases of any spacing:
//
//	X(φ) = Σ x[n] e^{-jφn}
//
// Real phases use a fast transform of one and a half times the length and a short sum over its bins
// (the non-uniform transform with a Kaiser-Bessel window, Fessler and Sutton 2003). Complex ones
// are summed term by term.
type transformer struct {
	phases []complex128
	length int // of the series

	fft    *fourier.FFT
	shape  float64   // of the Kaiser-Bessel window
	window []float64 // 1/transform of the kernel, by n
	first  []int     // by frequency: first bin
	kernel [][taps]float64
	middle []complex128 // e^{-jφ} of the middle of the series
	padded []float64
	bins   []complex128
}

// taps is the number of bins summed for one frequency.
const taps = 12

// padding is the least length of the fast transform, relative to the series.
const padding = 1.5

// newTransformer prepares transforms of series of a length at the given phases.
func newTransformer(phases []complex128, length int) *transformer {
	t := &transformer{phases: phases, length: length}
	for _, p := range phases {
		if imag(p) != 0 {
			return t
		}
	}
	size := smooth(int(math.Ceil(padding * float64(max(length, taps)))))
	// The best shape for this much padding (Beatty, Nishimura and Pauly 2005, eq. 5).
	spread := taps * (1 - float64(length)/float64(size)/2)
	t.shape = math.Pi * math.Sqrt(spread*spread-0.8)
	t.fft = fourier.NewFFT(size)
	t.padded = make([]float64, size)
	t.bins = make([]complex128, size/2+1)
	t.window = make([]float64, length)
	for n := range t.window {
		t.window[n] = 1 / windowTransform(t.shape, float64(n-length/2)*2*math.Pi/float64(size))
	}
	for _, p := range phases {
		t.addKernel(real(p), size)
	}
	return t
}

// addKernel prepares the sum over bins for phase p. Time counts from the middle of the series,
// where the kernel's transform is widest.
func (t *transformer) addKernel(p float64, size int) {
	at := p * float64(size) / (2 * math.Pi)
	first := int(math.Ceil(at - taps/2.0))
	var k [taps]float64
	for i := range k {
		k[i] = window(t.shape, at-float64(first+i))
	}
	t.first = append(t.first, first)
	t.kernel = append(t.kernel, k)
	t.middle = append(t.middle, cmplx.Exp(complex(0, -p*float64(t.length/2))))
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

// window is the kernel over bins, taps wide, for a shape.
func window(shape, x float64) float64 {
	u := 1 - 4*x*x/(taps*taps)
	if u <= 0 {
		return 0
	}
	return kaiser.I0OfRoot(shape * shape * u)
}

// windowTransform is the continuous transform of window at w in rad per bin.
func windowTransform(shape, w float64) float64 {
	u := shape*shape - w*w*taps*taps/4
	if u > 0 {
		return taps * math.Sinh(math.Sqrt(u)) / math.Sqrt(u)
	}
	u = max(-u, 1e-30)
	return taps * math.Sin(math.Sqrt(u)) / math.Sqrt(u)
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
	k, first := &t.kernel[f], t.first[f]
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

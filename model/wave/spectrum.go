package wave

import (
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/dsp/fourier"
)

// transformer turns a recorded series into its spectrum at frequencies of any
// spacing:
//
//	X(φ) = Σ x[n] e^{-jφn}
//
// Real phases go through a fast transform of twice the length and a short sum
// over its bins (the non-uniform transform with a Kaiser-Bessel window, Fessler
// and Sutton 2003); complex ones are summed as they stand.
type transformer struct {
	phases []complex128
	length int // of the series

	fft    *fourier.FFT
	window []float64 // 1/transform of the kernel, by n
	first  []int     // by frequency: first bin
	kernel [][]complex128
	padded []float64
	bins   []complex128
}

const (
	taps    = 10             // bins that are joined for one frequency
	kaiserB = math.Pi * 7.45 // shape for twice the length (Beatty, Nishimura and Pauly 2005)
)

func newTransformer(phases []complex128, length int) *transformer {
	t := &transformer{phases: phases, length: length}
	for _, p := range phases {
		if imag(p) != 0 {
			return t
		}
	}
	size := 16
	for size < 2*length {
		size *= 2
	}
	t.fft = fourier.NewFFT(size)
	t.padded = make([]float64, size)
	t.bins = make([]complex128, size/2+1)
	t.window = make([]float64, length)
	for n := range t.window {
		t.window[n] = 1 / kaiserTransform((float64(n)-float64(length-1)/2)*2*math.Pi/float64(size))
	}
	for _, p := range phases {
		t.addKernel(real(p), size)
	}
	return t
}

// addKernel prepares the sum over bins for phase p. Time is counted from the
// middle of the series, where the kernel's transform is widest.
func (t *transformer) addKernel(p float64, size int) {
	at := p * float64(size) / (2 * math.Pi)
	first := int(math.Ceil(at - taps/2.0))
	mid := float64(t.length-1) / 2
	k := make([]complex128, taps)
	for i := range k {
		bin := float64(first + i)
		shift := (2*math.Pi*bin/float64(size) - p) * mid
		k[i] = complex(kaiser(at-bin), 0) * cmplx.Exp(complex(0, shift))
	}
	t.first = append(t.first, first)
	t.kernel = append(t.kernel, k)
}

// kaiser is the kernel over bins, taps wide.
func kaiser(x float64) float64 {
	u := 1 - 4*x*x/(taps*taps)
	if u <= 0 {
		return 0
	}
	return bessel0(kaiserB * math.Sqrt(u))
}

// kaiserTransform is the continuous transform of kaiser at w in rad per bin.
func kaiserTransform(w float64) float64 {
	u := kaiserB*kaiserB - w*w*taps*taps/4
	if u > 0 {
		return taps * math.Sinh(math.Sqrt(u)) / math.Sqrt(u)
	}
	u = max(-u, 1e-30)
	return taps * math.Sin(math.Sqrt(u)) / math.Sqrt(u)
}

// bessel0 is the modified Bessel function I0 (power series).
func bessel0(x float64) float64 {
	sum, term := 1.0, 1.0
	for n := 1.0; term > 1e-17*sum; n++ {
		term *= x * x / (4 * n * n)
		sum += term
	}
	return sum
}

// transform fills dst, one value per phase, from a series of the length that the
// transformer was made for.
func (t *transformer) transform(dst []complex128, series []float32) {
	if t.fft == nil {
		t.sum(dst, series)
		return
	}
	for n, x := range series {
		t.padded[n] = float64(x) * t.window[n]
	}
	clear(t.padded[len(series):])
	bins := t.fft.Coefficients(t.bins, t.padded)
	size := len(t.padded)
	for f := range dst {
		var sum complex128
		for i, k := range t.kernel[f] {
			sum += k * bin(bins, t.first[f]+i, size)
		}
		dst[f] = sum
	}
}

// bin returns a coefficient of a real series of the given length; those beyond
// the middle mirror the ones before.
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
		one, at := turn(p), complex(1, 0)
		var sum complex128
		for _, x := range series {
			sum += complex(float64(x), 0) * at
			at *= one
		}
		dst[f] = sum
	}
}

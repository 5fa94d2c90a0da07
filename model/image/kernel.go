package image

import (
	"evenbass/model/kaiser"
	"math"
	"math/cmplx"
)

// kernel is the Kaiser-Bessel window through which an image is spread over the
// samples around its arrival,
//
//	φ(x) = I0(b sqrt(1 - x²)) / I0(b)          |x| <= 1
//
// where x is the distance to the arrival over half the width. The shape b is that
// of Beatty, Nishimura & Pauly, IEEE Trans. Med. Imaging 24 (2005), Eq. 5.
type kernel struct {
	width int     // samples, even
	shape float64 // b

	// table holds φ for each sample of the width and rows+3 positions of the
	// arrival between two samples, from one row before the left sample to one
	// row after the right one: table[(p+1)*width+t].
	rows  int
	table []float64
}

// newKernel returns a kernel of the given even width for a series sampled at
// oversampling times the least possible rate.
func newKernel(width int, oversampling float64, rows int) *kernel {
	q := float64(width) / oversampling * (oversampling - 0.5)
	k := &kernel{width: width, shape: math.Pi * math.Sqrt(q*q-0.8), rows: rows}
	for p := -1; p <= rows+1; p++ {
		for t := range width {
			k.table = append(k.table, k.at(float64(p)/float64(rows)+float64(k.lead()-t)))
		}
	}
	return k
}

// lead is the number of samples that the kernel puts before the one at or just
// before the arrival.
func (k *kernel) lead() int { return k.width/2 - 1 }

// at returns φ at a distance in samples. Beyond the width it goes on smoothly,
// so that a table can be interpolated up to the edge.
func (k *kernel) at(samples float64) float64 {
	x := 2 * samples / float64(k.width)
	return kaiser.Window(k.shape, x)
}

// transform returns the Fourier transform of φ at ω/rate in rad per sample, which
// may be complex.
func (k *kernel) transform(omega complex128) complex128 {
	half := float64(k.width) / 2
	b := complex(k.shape, 0)
	s := cmplx.Sqrt(b*b - omega*omega*complex(half*half, 0))
	return complex(2*half/kaiser.I0OfRoot(k.shape*k.shape), 0) * cmplx.Sinh(s) / s
}

// weights fills dst with φ at each sample of the width for an arrival at fraction
// u between two samples, by cubic interpolation of the table.
func (k *kernel) weights(dst []float64, u float64) {
	u *= float64(k.rows)
	p := min(int(u), k.rows-1)
	u -= float64(p)
	w0 := -u * (u - 1) * (u - 2) / 6
	w1 := (u + 1) * (u - 1) * (u - 2) / 2
	w2 := -(u + 1) * u * (u - 2) / 2
	w3 := (u + 1) * u * (u - 1) / 6
	n := k.width
	row := k.table[p*n : (p+4)*n]
	for t := range dst[:n] {
		dst[t] = w0*row[t] + w1*row[n+t] + w2*row[2*n+t] + w3*row[3*n+t]
	}
}

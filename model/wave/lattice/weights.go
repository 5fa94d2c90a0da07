package lattice

import "math"

// weights fills w with the weights that give the value at place x, in cells from the centre of the
// first of len(w) cells in a row.
//
// Four cells are weighted so that waves of two wavenumbers s along the axis are exact, s² = 0.01
// and 0.65 of (kh)². The error inside is then below (3/128)(kh)⁴/8 except for waves along the axis
// at the very top of the band. That is an eighth of the error of the cubic through the same cells,
// and far less at low frequencies. Fewer cells are joined by the polynomial through them.
func weights(w []float64, x, kh float64) {
	if len(w) != 4 || kh <= 0 {
		lagrange(w, x)
		return
	}
	var s, even, odd [2]float64
	from := x - 1.5 // from the centre of the four
	for q, share := range [2]float64{0.01, 0.65} {
		s[q] = kh * math.Sqrt(share)
	}
	// The weights split into an even and an odd part with two unknowns each.
	for q := range s {
		odd[q], even[q] = math.Sincos(s[q] * from)
	}
	outer, inner := solve2(math.Cos(1.5*s[0]), math.Cos(0.5*s[0]), math.Cos(1.5*s[1]), math.Cos(0.5*s[1]), even)
	right, mid := solve2(math.Sin(1.5*s[0]), math.Sin(0.5*s[0]), math.Sin(1.5*s[1]), math.Sin(0.5*s[1]), odd)
	w[0], w[1], w[2], w[3] = (outer-right)/2, (inner-mid)/2, (inner+mid)/2, (outer+right)/2
}

// solve2 solves a u + b v = y[0], c u + d v = y[1].
func solve2(a, b, c, d float64, y [2]float64) (u, v float64) {
	det := a*d - b*c
	return (y[0]*d - b*y[1]) / det, (a*y[1] - y[0]*c) / det
}

// lagrange fills w with the weights of the polynomial through len(w) points.
func lagrange(w []float64, x float64) {
	for i := range w {
		w[i] = 1
		for m := range w {
			if m != i {
				w[i] *= (x - float64(m)) / float64(i-m)
			}
		}
	}
}

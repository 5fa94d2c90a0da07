// Package kaiser is the Kaiser window, by which filters and interpolations are cut to a length
// (J. F. Kaiser, in Kuo & Kaiser, System Analysis by Digital Computer, 1966). In go the window's
// shape and a place in it, out comes its weight.
//
//	β   shape: the greater, the wider the main lobe and the lower the side lobes
//	x   place, -1 to 1 from end to end
package kaiser

import "math"

// Window returns the window's weight at x, I0(β√(1-x²))/I0(β): 1 in the middle. Beyond the ends it
// goes on smoothly, so that a table of it can be interpolated up to them.
func Window(beta, x float64) float64 {
	return I0OfRoot(beta*beta*(1-x*x)) / I0OfRoot(beta*beta)
}

// I0OfRoot returns the modified Bessel function I0 of the square root of q by its power series,
// which holds for negative q too (Abramowitz & Stegun 1964, eq. 9.6.12).
func I0OfRoot(q float64) float64 {
	sum, term := 1.0, 1.0
	for i := 1.0; math.Abs(term) > 1e-17*math.Abs(sum); i++ {
		term *= q / (4 * i * i)
		sum += term
	}
	return sum
}

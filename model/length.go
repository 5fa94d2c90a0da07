package model

import "math"

// CleanLength returns a length in m without the rounding noise of sums and differences:
// 1.68 for 1.6800000000000002. A length within 1e-14 m of a whole nanometre becomes that
// nanometre's nearest float64; any other length, such as a third of an inch, stays as it is.
func CleanLength(m float64) float64 {
	if clean := math.Round(m*1e9) / 1e9; math.Abs(clean-m) < 1e-14 {
		return clean
	}
	return m
}

package model

import "math"

// Level is a level or a level difference in decibels. It has a type of its own
// because a level passed for a linear ratio goes unnoticed.
type Level float64

// LevelOf returns 20 lg of an amplitude ratio. Zero gives -Inf.
func LevelOf(ratio float64) Level { return Level(20 * math.Log10(ratio)) }

// PowerLevel returns 10 lg of a power ratio. Zero gives -Inf.
func PowerLevel(ratio float64) Level { return Level(10 * math.Log10(ratio)) }

// Ratio returns the amplitude ratio.
func (l Level) Ratio() float64 { return math.Pow(10, float64(l)/20) }

// Power returns the power ratio.
func (l Level) Power() float64 { return math.Pow(10, float64(l)/10) }

// CleanLength returns a length in m without the rounding noise of sums and differences:
// 1.68 for 1.6800000000000002. A length within 1e-14 m of a whole nanometre becomes that
// nanometre's nearest float64; any other length, such as a third of an inch, stays as it is.
func CleanLength(m float64) float64 {
	if clean := math.Round(m*1e9) / 1e9; math.Abs(clean-m) < 1e-14 {
		return clean
	}
	return m
}

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

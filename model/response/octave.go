package response

import (
	"math"

	"evenbass/model"
)

// Octave is the level of a curve in one third octave.
type Octave struct {
	Band  float64 // nominal mid-frequency, Hz (ISO 266)
	Level model.Level
}

// nominal are the third octaves that a room's low end has, Hz (ISO 266), from number 13 of
// IEC 61260-1:2014 on, whose exact mid-frequency is 10^1.3 Hz.
var nominal = [...]float64{20, 25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315}

// ThirdOctaves returns the power mean over lg f of a curve in dB in each third octave that
// the grid holds as a whole. Between two frequencies the power is straight over lg f. Of a
// smoothed curve it is a little smoother than of the transfer itself. It panics if the curve
// has not the grid's length.
func ThirdOctaves(grid model.Grid, curve []model.Level) []Octave {
	if len(curve) != len(grid) {
		panic("response: a curve that has not the length of its grid")
	}
	var list []Octave
	for i, band := range nominal {
		low, high := math.Pow(10, (float64(13+i)-0.5)/10), math.Pow(10, (float64(13+i)+0.5)/10)
		if len(grid) < 2 || grid[0] > low || grid[len(grid)-1] < high {
			continue
		}
		list = append(list, Octave{Band: band, Level: model.PowerLevel(meanBetween(grid, curve, low, high))})
	}
	return list
}

// meanBetween returns the mean power over lg f of a curve from one frequency to another.
func meanBetween(grid model.Grid, curve []model.Level, low, high float64) float64 {
	var sum float64
	for i := 1; i < len(grid); i++ {
		a, b := max(low, grid[i-1]), min(high, grid[i])
		if a >= b {
			continue
		}
		power := func(f float64) float64 {
			share := math.Log(f/grid[i-1]) / math.Log(grid[i]/grid[i-1])
			return (1-share)*math.Pow(10, float64(curve[i-1])/10) + share*math.Pow(10, float64(curve[i])/10)
		}
		sum += (power(a) + power(b)) / 2 * math.Log(b/a)
	}
	return sum / math.Log(high/low)
}

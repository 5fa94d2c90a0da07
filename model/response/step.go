package response

import (
	"math"
	"slices"
	"sort"

	"evenbass/model"
)

// Step returns the widest step in Hz between the frequencies of a grid at which
// smoothed levels hold to 0.1 dB, where the slowest resonance takes the given time in
// s to fall by 60 dB: 1.5 times half its bandwidth,
//
//	γ = ln(1000)/(2π T60),  step = 1.5 γ
//
// with the transfer interpolated as [Reader] does. The factor is found by trial, see
// the tests; half the -3 dB bandwidth of a resonance is γ (Kuttruff, Room Acoustics,
// 6th ed. 2016, eq. 3.20).
func Step(decay float64) float64 { return 1.5 * math.Log(1000) / (2 * math.Pi * decay) }

// GridFor returns frequencies for a room: those of [model.DefaultGrid], made closer
// where the slowest resonance about a frequency decays so slowly that the steps must
// be narrower. They are closer only where the goal's smoothed levels reach: its band and
// half a window on either side. The ends of the goal's band are among them, since a curve may
// have its extreme there. The decay is the time in s to fall by 60 dB at a frequency
// in Hz. A goal without smoothing counts as the whole grid.
func GridFor(goal model.Goal, decay func(f float64) float64) model.Grid {
	from, to := 0.0, math.Inf(1)
	if goal.Smoothing > 0 {
		half := math.Pow(octaveRatio, 1/float64(2*goal.Smoothing))
		from, to = goal.From/half, goal.To*half
	}
	usual := withPoint(withPoint(model.DefaultGrid(), goal.From), goal.To)
	grid := model.Grid{usual[0]}
	for i, upper := range usual[1:] {
		lower := usual[i]
		if upper > from && lower < to {
			widest := min(Step(decay(lower)), Step(decay(upper)))
			n := math.Ceil((upper - lower) / widest * (1 - 1e-9))
			for k := 1.0; k < n; k++ {
				grid = append(grid, lower+(upper-lower)*k/n)
			}
		}
		grid = append(grid, upper)
	}
	return grid
}

// withPoint returns a grid with f Hz among its points: the nearest one moves there if it is
// close. A point beyond the grid is left out.
func withPoint(grid model.Grid, f float64) model.Grid {
	n := len(grid)
	if f <= grid[0] || f >= grid[n-1] {
		return grid
	}
	i := sort.SearchFloat64s(grid, f) // grid[i-1] < f <= grid[i]
	step := grid[i] - grid[i-1]
	switch {
	case f-grid[i-1] < closePoint*step && i > 1:
		grid[i-1] = f
	case grid[i]-f < closePoint*step && i < n-1:
		grid[i] = f
	default:
		grid = slices.Insert(grid, i, f)
	}
	return grid
}

// closePoint is the share of a step below which two points are too close for a cubic through
// both.
const closePoint = 0.3

// SettlingTime returns the time in s after which the end of an impulse response, 30 dB below its
// start, no longer counts in levels smoothed as a goal says: 4 over the width of its narrowest
// window, at the low end of the band. The factor is found by trial. It is 0, which means never, without smoothing.
func SettlingTime(goal model.Goal) float64 {
	if goal.Smoothing <= 0 || goal.From <= 0 {
		return 0
	}
	half := math.Pow(octaveRatio, 1/float64(2*goal.Smoothing))
	return 4 / (goal.From * (half - 1/half))
}

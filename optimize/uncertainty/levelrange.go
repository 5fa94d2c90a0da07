package uncertainty

import (
	"math"
	"slices"

	"evenbass/model"
)

// LevelRange is what the levels of a curve stay within in eight tenths of all trials: a tenth
// is below Low and a tenth above High, frequency by frequency. Levels are in dB relative to the
// mean of each trial's own curve in the goal's band.
type LevelRange struct{ Low, High []float64 }

// rangeGrid is the grid of all ranges. Each trial's room has a grid of its own, since its decay
// is its own.
func rangeGrid() model.Grid { return model.NewGrid(20, 315, 24, 0) }

// rangeLevels returns a curve over the grid of ranges, relative to its mean: straight over lg f
// between two frequencies of its own grid.
func rangeLevels(grid model.Grid, curve []model.Level, mean model.Level) []float64 {
	out := rangeGrid()
	for k, f := range out {
		i, found := slices.BinarySearch(grid, f)
		switch {
		case found || i == 0:
			out[k] = float64(curve[min(i, len(curve)-1)] - mean)
		case i == len(grid):
			out[k] = float64(curve[i-1] - mean)
		default:
			share := math.Log(f/grid[i-1]) / math.Log(grid[i]/grid[i-1])
			out[k] = (1-share)*float64(curve[i-1]-mean) + share*float64(curve[i]-mean)
		}
	}
	return out
}

// setRanges reads the ranges off readings, by trial and layout.
func (s *Stability) setRanges(all [][]reading) {
	if all[0][0].levels[0] == nil {
		return
	}
	s.Grid = rangeGrid()
	s.Ranges = make([][3]LevelRange, len(all[0]))
	for i := range s.Ranges {
		for c := range s.Ranges[i] {
			r := &s.Ranges[i][c]
			for k := range s.Grid {
				v := interval(all, i, func(o reading) float64 { return o.levels[c][k] })
				r.Low, r.High = append(r.Low, v.Low), append(r.High, v.High)
			}
		}
	}
}

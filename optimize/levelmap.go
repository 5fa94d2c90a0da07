package optimize

import (
	"math"
	"slices"

	"evenbass/model"
	"evenbass/model/response"
)

// LevelMap is the sound level over a floor from a pair that stays where it is,
// smoothed as the goal says.
type LevelMap struct {
	Floor
	Layout model.Layout
	Goal   model.Goal
	Grid   model.Grid // the frequencies of the map, Hz

	// Levels holds by channel, for frequency i at place n, entry n·len(Grid)+i: dB
	// relative to the channel's power mean at that frequency over all of the floor that
	// is air. NaN where nothing can be.
	Levels [3][]model.Level

	// Means holds by channel for each frequency that mean itself: dB relative to the
	// channel's power mean over floor and goal's band, lg f.
	Means [3][]model.Level
}

// At returns the level of a channel at place n and frequency i of the map's grid.
func (m *LevelMap) At(c response.Channel, n, i int) model.Level {
	return m.Levels[c][n*len(m.Grid)+i]
}

// Extremes returns the quietest and the loudest place of a channel at frequency i of
// the map's grid, and whether there are any.
func (m *LevelMap) Extremes(c response.Channel, i int) (quiet, loud int, ok bool) {
	for n := range m.Len() {
		l := m.At(c, n, i)
		if math.IsNaN(float64(l)) {
			continue
		}
		if !ok || l < m.At(c, quiet, i) {
			quiet = n
		}
		if !ok || l > m.At(c, loud, i) {
			loud = n
		}
		ok = true
	}
	return quiet, loud, ok
}

// sliderSteps is how many frequencies a map has besides those asked for.
const sliderSteps = 24

// mapGrid returns about two dozen frequencies of a grid that are even over lg f in the
// goal's band, and the nearest ones to those that are asked for.
func mapGrid(grid model.Grid, goal model.Goal, wanted model.Grid) model.Grid {
	var list model.Grid
	for i := range sliderSteps {
		f := goal.From * math.Pow(goal.To/goal.From, float64(i)/(sliderSteps-1))
		list = append(list, grid[grid.Nearest(f)])
	}
	for _, f := range wanted {
		list = append(list, grid[grid.Nearest(f)])
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// tellingMost and tellingApart bound how many frequencies are told of a curve by
// themselves and how near they may be to each other, as a ratio.
const (
	tellingMost  = 3
	tellingApart = 1.12 // a sixth of an octave
)

// telling returns up to three frequencies at which a look at the floor tells most of a
// curve: its worst two dips and its strongest peak within the band, in that order. A
// curve that is even has at least its lowest and highest points.
func telling(r *response.Reader, curve []complex128) model.Grid {
	var dips, peaks model.Grid
	for _, f := range r.Features(response.BothTogether, curve, 3) {
		if f.Peak {
			peaks = append(peaks, f.Frequency)
		} else {
			dips = append(dips, f.Frequency)
		}
	}
	figures := r.Read(curve)
	dips = append(model.Grid{figures.Lowest.Frequency}, dips...)
	peaks = append(model.Grid{figures.Highest.Frequency}, peaks...)
	var list model.Grid
	take := func(from model.Grid, most int) {
		for _, f := range from {
			near := func(o float64) bool { return max(f/o, o/f) < tellingApart }
			if most > 0 && !slices.ContainsFunc(list, near) {
				list = append(list, f)
				most--
			}
		}
	}
	take(dips, 2)
	take(peaks, tellingMost-len(list))
	return list
}

package floormap

import (
	"math"
	"slices"

	"evenbass/model"
	"evenbass/model/response"
)

// Levels is the sound level over a floor from a pair that stays where it is, smoothed as
// the goal says.
type Levels struct {
	Floor
	Goal model.Goal
	Grid model.Grid // the frequencies of the map, Hz

	// Levels holds for each channel, frequency i and place n the entry n·len(Grid)+i: dB
	// relative to the channel's power mean at that frequency over all of the floor that
	// is air. NaN outside the air.
	Levels [3][]model.Level

	// Means holds that mean for each channel and frequency: dB relative to the channel's
	// power mean over the floor and, by lg f, over the goal's band.
	Means [3][]model.Level
}

// At returns the level of a channel at place n and frequency i of the map's grid.
func (m *Levels) At(c response.Channel, n, i int) model.Level {
	return m.Levels[c][n*len(m.Grid)+i]
}

// Extremes returns the quietest and the loudest place of a channel at frequency i of
// the map's grid, and whether there are any.
func (m *Levels) Extremes(c response.Channel, i int) (quiet, loud int, ok bool) {
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

// sliderSteps is how many frequencies a map has besides those requested.
const sliderSteps = 24

// mapGrid returns about two dozen frequencies of a grid, evenly spaced over lg f in the
// goal's band, and the ones nearest to those wanted.
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

// How many frequencies stand for a curve, and their least distance as a ratio.
const (
	mostRevealing  = 3
	revealingApart = 1.12 // a sixth of an octave
)

// revealing returns up to three frequencies whose maps explain most of a curve: its two
// deepest dips and its strongest peak within the band, in that order. A flat curve has at
// least its lowest and highest points.
func revealing(r *response.Reader, curve []complex128) model.Grid {
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
			near := func(o float64) bool { return max(f/o, o/f) < revealingApart }
			if most > 0 && !slices.ContainsFunc(list, near) {
				list = append(list, f)
				most--
			}
		}
	}
	take(dips, 2)
	take(peaks, mostRevealing-len(list))
	return list
}

package response

import (
	"fmt"
	"math"
	"sort"

	"gonum.org/v1/gonum/interp"

	"evenbass/model"
)

// RowError is by how much a cubic spline through levels at the frequencies of [Rows] misses
// the response between them, dB.
const RowError model.Level = 0.05

// Rows are denser where a curve bends. Two are no closer than closestRows, Hz: a null that
// is narrower cannot be measured in a room whose temperature drifts.
const (
	closestRows = 0.01
	mostRounds  = 16 // halvings of a step
)

// RowGrid returns frequencies for an engine from which [Rows] can take any other: steps
// of half of what [Step] allows over the whole range, since levels that are not smoothed ask for
// more than smoothed ones. The decay is that of [GridFor].
func RowGrid(goal model.Goal, decay func(f float64) float64) model.Grid {
	goal.Smoothing = 0
	coarse := GridFor(goal, decay)
	grid := model.Grid{coarse[0]}
	for i, f := range coarse[1:] {
		grid = append(grid, (coarse[i]+f)/2, f)
	}
	return grid
}

// Rows returns the frequencies at which a pair's levels, not smoothed, are to be listed so that
// a cubic spline through them gives the levels in between to [RowError], of each speaker
// and of both. It returns the pair there as well. The grid is a [RowGrid]. What lies between its
// frequencies is taken off the polynomial through the six nearest complex values, of a signal
// that arrives earlier, see [interpolation].
//
// It panics if the transfers have not the grid's length, or for fewer than six frequencies.
func Rows(grid model.Grid, p Pair) (model.Grid, Pair) {
	if n := len(grid); n < nearestValues || len(p.Left) != n || len(p.Right) != n {
		panic(fmt.Sprintf("response: transfers of %d and %d values, the grid has %d", len(p.Left), len(p.Right), n))
	}
	c := continuous{grid, p}
	var rows []row
	for i := 0; i < len(grid); i += 2 {
		rows = append(rows, c.at(grid[i]))
	}
	if len(grid)%2 == 0 {
		rows = append(rows, c.at(grid[len(grid)-1]))
	}
	for range mostRounds {
		denser := c.denser(rows)
		if len(denser) == len(rows) {
			break
		}
		rows = denser
	}
	var out model.Grid
	var at Pair
	for _, r := range rows {
		out, at.Left, at.Right = append(out, r.f), append(at.Left, r.left), append(at.Right, r.right)
	}
	return out, at
}

// row is a pair at a frequency, with the level of each channel: of its pressure alone, since the
// reference of a room gain bends nowhere.
type row struct {
	f           float64
	left, right complex128
	levels      [3]float64 // by Channel
}

// continuous is a pair at any frequency within its grid.
type continuous struct {
	grid model.Grid
	pair Pair
}

// nearestValues is how many values a polynomial goes through.
const nearestValues = 6

// at returns the pair at a frequency.
func (c *continuous) at(f float64) row {
	r := row{f: f}
	i := sort.SearchFloat64s(c.grid, f) // grid[i-1] < f <= grid[i]
	if i < len(c.grid) && c.grid[i] == f {
		r.left, r.right = c.pair.Left[i], c.pair.Right[i]
	} else {
		first := max(0, min(len(c.grid)-nearestValues, i-nearestValues/2))
		places := c.grid[first : first+nearestValues]
		early := 2 * math.Pi * lead / (c.grid[i] - c.grid[i-1])
		for j, a := range places {
			w := 1.0
			for k, b := range places {
				if k != j {
					w *= (f - b) / (a - b)
				}
			}
			sin, cos := math.Sincos(early * (a - f))
			turn := complex(w*cos, w*sin)
			r.left += turn * c.pair.Left[first+j]
			r.right += turn * c.pair.Right[first+j]
		}
	}
	for _, ch := range Channels {
		p := [3]complex128{r.left, r.right, r.left + r.right}[ch]
		r.levels[ch] = 10 * math.Log10(real(p)*real(p)+imag(p)*imag(p)+math.SmallestNonzeroFloat64)
	}
	return r
}

// denser returns the rows with another one in the middle of each step over which a spline through
// them misses the response.
func (c *continuous) denser(rows []row) []row {
	f := make([]float64, len(rows))
	var levels [3][]float64
	for i, r := range rows {
		f[i] = r.f
		for ch, l := range r.levels {
			levels[ch] = append(levels[ch], l)
		}
	}
	var splines [3]interp.NotAKnotCubic
	for ch := range splines {
		if err := splines[ch].Fit(f, levels[ch]); err != nil {
			return rows // fewer than three
		}
	}
	misses := func(r row) bool {
		for ch, l := range r.levels {
			if math.Abs(splines[ch].Predict(r.f)-l) > float64(RowError) {
				return true
			}
		}
		return false
	}
	list := rows[:1:1]
	for i, r := range rows[1:] {
		from, step := rows[i].f, r.f-rows[i].f
		if middle := c.at(from + step/2); step >= 2*closestRows &&
			(misses(middle) || misses(c.at(from+step/4)) || misses(c.at(from+3*step/4))) {
			list = append(list, middle)
		}
		list = append(list, r)
	}
	return list
}

package optimize

import (
	"math"
	"slices"

	"evenbass/model"
	"evenbass/model/response"
)

// bothGrids is one list of frequencies for levels and for decays, so that one field serves
// both.
type bothGrids struct {
	grid           model.Grid
	levels, decays []int // where the frequencies of each are in it
	decay          *response.DecayReader
}

// newBothGrids joins the grid of levels with that of decays.
func newBothGrids(levels model.Grid) bothGrids {
	b := bothGrids{decay: response.NewDecayReader()}
	b.grid, b.levels, b.decays = doubleGrid(levels, response.DecayGrid())
	return b
}

// doubleGrid joins two grids, and returns where the frequencies of each are in it.
func doubleGrid(a, b model.Grid) (both model.Grid, inA, inB []int) {
	both = append(slices.Clone(a), b...)
	slices.Sort(both)
	both = slices.CompactFunc(both, func(x, y float64) bool { return math.Abs(y-x) < 1e-9 })
	for _, f := range a {
		inA = append(inA, both.Nearest(f))
	}
	for _, f := range b {
		inB = append(inB, both.Nearest(f))
	}
	return both, inA, inB
}

// pick returns the values at the given places of a list.
func pick(values []complex128, at []int) []complex128 {
	list := make([]complex128, len(at))
	for i, k := range at {
		list[i] = values[k]
	}
	return list
}

package svg

import (
	"evenbass/model"
	"evenbass/model/response"
	"evenbass/report/unit"
)

// NewTrace returns the curve of one channel, relative to its own mean in the goal's band, with
// its spread. The grid is in Hz and as long as the curves.
func NewTrace(class, name string, grid model.Grid, j *response.Judgement, c response.Channel) Trace {
	f := &j.Figures[c]
	t := Trace{
		Class: class, Name: name, Spread: unit.Spread(f.Spread), X: grid, Y: make([]float64, len(grid)),
		Extent: [2]float64{float64(f.Lowest.Level), float64(f.Highest.Level)},
	}
	for i, l := range j.Curves[c] {
		t.Y[i] = float64(l - f.Mean)
	}
	return t
}

// Difference returns how much one curve is above another, both over one grid.
func Difference(class string, result, before *Trace) Trace {
	t := Trace{Class: class, X: result.X, Y: make([]float64, len(result.Y))}
	for i := range t.Y {
		t.Y[i] = result.Y[i] - before.Y[i]
	}
	return t
}

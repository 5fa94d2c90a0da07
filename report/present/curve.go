package present

import (
	"fmt"

	"evenbass/model/measure/analysis"
	"evenbass/report/svg"
	"evenbass/report/unit"
)

// Trace returns the smoothed curve of an analysis, re its mean in the goal's band.
func Trace(class, name string, a *analysis.Analysis) svg.Trace {
	f := a.Figures
	t := svg.Trace{
		Class: class, Name: name, Spread: unit.Spread(f.Spread), X: a.Grid,
		Extent: [2]float64{float64(f.Lowest.Level), float64(f.Highest.Level)},
	}
	for _, l := range a.Curve {
		t.Y = append(t.Y, float64(l-f.Mean))
	}
	return t
}

// CurveText says in words what a curve shows.
func CurveText(name string, a *analysis.Analysis) string {
	f := a.Figures
	return fmt.Sprintf("%s: spread %s, lowest %s at %s, highest %s at %s. ", name, unit.Spread(f.Spread),
		unit.Decibels(f.Lowest.Level), unit.Frequency(f.Lowest.Frequency), unit.Decibels(f.Highest.Level), unit.Frequency(f.Highest.Frequency))
}

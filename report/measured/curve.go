package measured

import (
	"math"

	"evenbass/model"
	"evenbass/model/measure/analysis"
	"evenbass/report/svg"
)

// noiseTrace returns the noise of an analysis on the scale of its curve.
func noiseTrace(a *analysis.Analysis) (svg.Trace, bool) {
	if a.Noise == nil {
		return svg.Trace{}, false
	}
	t := svg.Trace{Class: "noise", X: a.Grid}
	shown := false
	for _, l := range a.Noise {
		y := float64(l - a.Figures.Mean)
		if y < svg.LevelBottom {
			y = math.NaN() // below the scale
		}
		shown = shown || y == y
		t.Y = append(t.Y, y)
	}
	return t, shown
}

// differenceGraph draws how much one curve is above another.
func differenceGraph(id, title string, grid model.Grid, d []model.Level, goal model.Goal) svg.Pair {
	return svg.NewPair(func(form svg.Form) *svg.Drawing {
		t := svg.Trace{Class: "result", X: grid}
		for _, l := range d {
			t.Y = append(t.Y, float64(l))
		}
		g := svg.Graph{
			ID: form.Name(id), Form: form, Goal: goal, Traces: []svg.Trace{t}, Title: title, Desc: title + ", in dB over frequency.",
			Scale: svg.Scale{Low: -15, High: 15, Step: 5, Unit: "dB", Height: 190},
		}
		return g.Drawing()
	})
}

package place

import (
	"encoding/json"
	"evenbass/report/chart"
	"math"
)

// modeKinds are the kinds of mode with their look: the fewer walls a mode needs,
// the heavier its line.
var modeKinds = [...]chart.Curve{
	{Name: "oblique", Colour: "var(--oblique)", Symbol: "triangle", Width: 1, Size: 5},
	{Name: "tangential", Colour: "var(--tangential)", Symbol: "rect", Width: 1.4, Size: 6},
	{Name: "axial", Colour: "var(--axial)", Symbol: "circle", Width: 2.2, Size: 8},
}

// modeChart returns the options of the chart of modes: a stem for each mode at
// its frequency, as high as its decay time, by kind.
func modeChart(modes []Mode) (json.RawMessage, error) {
	chart := chart.Chart{
		ID: "mode_falls", EachTip: true, Legend: &chart.Legend{Names: []string{"axial", "tangential", "oblique"}},
		Y: chart.YAxis{Name: "decay, s", Places: 3},
	}
	for _, curve := range modeKinds {
		curve.Points = stems(modes, curve.Name)
		chart.Curves = append(chart.Curves, curve)
	}
	return chart.Options()
}

// stems draws each mode of a kind as a line from zero up to its decay time; a
// gap between two stems breaks the line.
func stems(modes []Mode, kind string) []chart.Point {
	var points []chart.Point
	for _, m := range modes {
		if m.Kind != kind || m.Frequency < chart.AxisFrom || m.Frequency > chart.AxisTo || !(m.Decay > 0) || math.IsInf(m.Decay, 0) {
			continue
		}
		points = append(points,
			chart.Point{X: m.Frequency}, chart.Point{X: m.Frequency, Y: m.Decay, Name: m.Name()}, chart.Point{X: m.Frequency, Y: math.NaN()})
	}
	return points
}

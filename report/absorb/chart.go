package absorb

import (
	"encoding/json"
	"fmt"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/absorber"
	"evenbass/report/chart"
)

// Ends of the frequency axis of a chart of absorption, Hz.
const (
	axisFrom = 20
	axisTo   = 5000
)

// octaveMarks are the octaves of ISO 266 and the ends of the axis.
func octaveMarks() []float64 {
	return []float64{axisFrom, 31.5, 63, 125, 250, 500, 1000, 2000, 4000, axisTo}
}

// incidence is a way in which sound meets a build-up, with the curve for it.
type incidence struct {
	id, title string
	of        func(*absorber.Curves) []material.Span
}

func incidences() [2]incidence {
	return [...]incidence{
		{"absorption_random", "Random incidence: sound from all directions", func(f *absorber.Curves) []material.Span { return f.Random }},
		{"absorption_normal", "Normal incidence: head-on sound", func(f *absorber.Curves) []material.Span { return f.Normal }},
	}
}

// newChart returns the options of a chart of absorption over frequency: for
// each build-up a band from low to high, over it the typical curve with its letter.
func newChart(a *Report, inc incidence) (json.RawMessage, error) {
	line := chart.Chart{
		ID: inc.id, Band: model.Range{Min: axisFrom, Max: axisTo}, Marks: octaveMarks(),
		Y: chart.YAxis{Name: "absorption", Max: 1, Step: 0.2, Places: 4},
	}
	for i := range a.BuildUps {
		f := &a.BuildUps[i].Figure
		line.Curves = append(line.Curves, chart.Curve{Colour: chart.RoleOf(i + 1), Fill: 0.13, Points: ring(f.Grid, inc.of(f))})
	}
	for i := range a.BuildUps {
		f := &a.BuildUps[i].Figure
		curve := chart.Layout(i+1, a.letter(i))
		if i >= 3 { // dashes repeat from here on
			curve.Width = 1.3
		}
		curve.Points = typical(f.Grid, inc.of(f))
		curve.Label = &chart.Label{Letter: curve.Name, At: curve.Points[letterAt(f.Grid, i, len(a.BuildUps))]}
		line.Curves = append(line.Curves, curve)
	}
	return line.Options()
}

// ring runs along the high edge of a range and back along the low one. An area
// under such a line is filled between its edges only.
func ring(grid model.Grid, s []material.Span) []chart.Point {
	var points []chart.Point
	for i, f := range grid {
		points = append(points, chart.Point{X: f, Y: s[i].High})
	}
	for i := len(grid) - 1; i >= 0; i-- {
		points = append(points, chart.Point{X: grid[i], Y: s[i].Low})
	}
	return points
}

func typical(grid model.Grid, s []material.Span) []chart.Point {
	points := make([]chart.Point, len(grid))
	for i, f := range grid {
		points[i] = chart.Point{X: f, Y: s[i].Typical}
	}
	return points
}

// letterAt returns where on its curve the letter of a build-up stands: from 50 to 100
// Hz, side by side.
func letterAt(grid model.Grid, i, n int) int {
	share := (float64(i) + 1) / (float64(n) + 1)
	return grid.Nearest(50 * (1 + share))
}

// chartLabel says in words what a chart of absorption shows.
func chartLabel(a *Report, inc incidence) string {
	text := "Chart of absorption from 0 to 1 over frequency from 20 Hz to 5 kHz. "
	for i := range a.BuildUps {
		f := &a.BuildUps[i].Figure
		s := inc.of(f)
		text += fmt.Sprintf("%s: ", a.letter(i))
		for n, at := range []float64{63, 125, 500} {
			text += fmt.Sprintf("%s%s at %g Hz", map[bool]string{true: "", false: ", "}[n == 0], coefficient(s[f.Grid.Nearest(at)].Typical), at)
		}
		text += ". "
	}
	return text + "The table gives every third octave."
}

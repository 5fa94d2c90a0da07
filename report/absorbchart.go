package report

import (
	"fmt"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"

	"evenbass/model"
	"evenbass/model/material"
)

// Ends of the frequency axis of a chart of absorption, Hz.
const (
	absorptionFrom = 20
	absorptionTo   = 5000
)

// octaveMarks are the octaves of ISO 266 and the ends of the axis.
func octaveMarks() []float64 {
	return []float64{absorptionFrom, 31.5, 63, 125, 250, 500, 1000, 2000, 4000, absorptionTo}
}

// incidence is a way in which sound meets a build-up, with the curve for it.
type incidence struct {
	id, title string
	of        func(*material.Figure) []material.Span
}

func incidences() [2]incidence {
	return [...]incidence{
		{"absorption_random", "Random incidence: sound from all directions", func(f *material.Figure) []material.Span { return f.Random }},
		{"absorption_normal", "Normal incidence: sound that comes head on", func(f *material.Figure) []material.Span { return f.Normal }},
	}
}

// absorptionChart returns the options of a chart of absorption over frequency: for
// each build-up a band from low to high, over it the typical curve with its letter.
func absorptionChart(a *Absorption, inc incidence) ([]byte, error) {
	line := charts.NewLine()
	axis := frequencyAxis()
	axis.Min, axis.Max = absorptionFrom, absorptionTo
	line.SetGlobalOptions(
		charts.WithInitializationOpts(opts.Initialization{ChartID: inc.id}),
		charts.WithAnimation(false),
		charts.WithXAxisOpts(axis),
		charts.WithYAxisOpts(opts.YAxis{
			Type: "value", Min: 0, Max: 1, Name: "absorption", NameLocation: "end", NameGap: 8,
			AxisLabel: &opts.AxisLabel{Color: roleFaint, ShowMinLabel: opts.Bool(true), ShowMaxLabel: opts.Bool(true)},
			SplitLine: &opts.SplitLine{Show: opts.Bool(true), LineStyle: &opts.LineStyle{Color: roleRule}},
		}),
		charts.WithGridOpts(opts.Grid{Left: "48", Right: "34", Top: "30", Bottom: "30"}),
		charts.WithTooltipOpts(opts.Tooltip{Show: opts.Bool(true), Trigger: "axis"}),
		charts.WithLegendOpts(opts.Legend{Show: opts.Bool(false)}),
	)
	for i := range a.BuildUps {
		f := &a.BuildUps[i].Figure
		addBand(line, i, ring(f.Grid, inc.of(f)))
	}
	for i := range a.BuildUps {
		f := &a.BuildUps[i].Figure
		addCurve(line, i, a.letter(i), typical(f.Grid, inc.of(f)), letterAt(f.Grid, i, len(a.BuildUps)))
	}
	return optionsOn(line, logAxes{step: 0.2, marks: octaveMarks()})
}

// addBand shades the range of a build-up. It has no name and so no word in the
// tooltip.
func addBand(line *charts.Line, i int, outline []opts.LineData) {
	line.AddSeries("", outline,
		charts.WithLineChartOpts(opts.LineChart{ShowSymbol: opts.Bool(false), Symbol: "none"}),
		charts.WithLineStyleOpts(opts.LineStyle{Color: layoutRole(i + 1), Opacity: opts.Float(0)}),
		charts.WithItemStyleOpts(opts.ItemStyle{Color: layoutRole(i + 1)}),
		charts.WithAreaStyleOpts(opts.AreaStyle{Color: layoutRole(i + 1), Opacity: opts.Float(0.13)}),
	)
}

// addCurve draws the typical curve of a build-up with its letter on it.
func addCurve(line *charts.Line, i int, letter string, curve []opts.LineData, at int) {
	var width float32 = 2.4
	if i >= 3 { // dashes repeat from here on
		width = 1.3
	}
	line.AddSeries(letter, curve,
		charts.WithLineChartOpts(opts.LineChart{ShowSymbol: opts.Bool(false), Symbol: "none"}),
		charts.WithLineStyleOpts(opts.LineStyle{Color: layoutRole(i + 1), Width: width, Type: layoutDash(i + 1)}),
		charts.WithItemStyleOpts(opts.ItemStyle{Color: layoutRole(i + 1)}),
		charts.WithMarkPointNameCoordItemOpts(opts.MarkPointNameCoordItem{
			Name: letter, Coordinate: curve[at].Value.([]interface{}), Symbol: "circle", SymbolSize: 17,
			ItemStyle: &opts.ItemStyle{Color: "var(--paper)", BorderColor: layoutRole(i + 1), BorderWidth: 1.5},
			Label:     &opts.Label{Show: opts.Bool(true), Formatter: letter, Color: roleInk, FontSize: 11},
		}),
	)
}

// ring runs along the high edge of a range and back along the low one. An area
// under such a line is filled between its edges only.
func ring(grid model.Grid, s []material.Span) []opts.LineData {
	var data []opts.LineData
	for i, f := range grid {
		data = append(data, pointAt(f, s[i].High))
	}
	for i := len(grid) - 1; i >= 0; i-- {
		data = append(data, pointAt(grid[i], s[i].Low))
	}
	return data
}

func typical(grid model.Grid, s []material.Span) []opts.LineData {
	var data []opts.LineData
	for i, f := range grid {
		data = append(data, pointAt(f, s[i].Typical))
	}
	return data
}

func pointAt(f, alpha float64) opts.LineData {
	return opts.LineData{Value: []interface{}{round(f, 2), round(alpha, 4)}}
}

// letterAt returns where on its curve the letter of a build-up stands: from 50 to 100
// Hz, side by side.
func letterAt(grid model.Grid, i, n int) int {
	share := (float64(i) + 1) / (float64(n) + 1)
	return grid.Nearest(50 * (1 + share))
}

// absorptionLabel says in words what a chart of absorption shows.
func absorptionLabel(a *Absorption, inc incidence) string {
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

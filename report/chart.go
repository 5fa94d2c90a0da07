package report

import (
	"encoding/json"
	"fmt"
	"math"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize"
)

// Colour roles. The page's style sheet gives each a colour for light, dark and
// print; the page's script puts it in place of the role's name.
const (
	roleInk   = "var(--ink)"
	roleFaint = "var(--faint)"
	roleRule  = "var(--rule)"
	roleNow   = "var(--now)"
	roleGoal  = "var(--goal)"
)

// layoutRole returns the colour role of layout n, counted from 1.
func layoutRole(n int) string { return fmt.Sprintf("var(--layout-%d)", (n-1)%5+1) }

// layoutDash returns the line of layout n: colour is never the only difference.
func layoutDash(n int) string { return []string{"solid", "dashed", "dotted"}[(n-1)%3] }

// Scale of the level axis, dB re the curve's mean: 50 dB in steps of 5, the same
// on every chart of every report, so that two reports can be held side by side.
const (
	levelTop    = 20
	levelBottom = -30
	levelStep   = 5
)

// responseChart returns the options of the chart of one channel: the present
// layout and those found over frequency, each relative to its own mean in the
// goal's band, with the goal's band shaded. All but the first layout start
// hidden; the page's script shows the one that is chosen. The legend is the page's
// own, outside the charts.
func responseChart(in *Input, channel response.Channel) ([]byte, error) {
	line := charts.NewLine()
	goal := in.Result.Goal
	line.SetGlobalOptions(
		charts.WithInitializationOpts(opts.Initialization{ChartID: "response_" + channel.String()}),
		charts.WithAnimation(false),
		charts.WithXAxisOpts(frequencyAxis()),
		charts.WithYAxisOpts(levelAxis()),
		charts.WithGridOpts(opts.Grid{Left: "48", Right: "34", Top: "30", Bottom: "30"}),
		charts.WithTooltipOpts(opts.Tooltip{Show: opts.Bool(true), Trigger: "axis"}),
	)
	shown := map[string]bool{}
	add := func(name, colour, dash string, width float32, c *optimize.Candidate, on bool) {
		shown[name] = on
		f := c.Judgement.Figures[channel]
		levelCurve(line, name, colour, dash, width, curveData(in.Grid, c.Judgement.Curves[channel], f.Mean),
			charts.WithMarkAreaData(corners(goal.From, float64(f.Lowest.Level), goal.To, float64(f.Highest.Level))),
			charts.WithMarkAreaStyleOpts(opts.MarkAreaStyle{ItemStyle: &opts.ItemStyle{Color: colour, Opacity: opts.Float(markOpacity(name))}}),
		)
	}
	goalArea(line, goal)
	if in.Result.Now != nil {
		add(nowName, roleNow, "dashed", 1.6, in.Result.Now, true)
	}
	for i := range in.Result.Candidates {
		add(layoutName(i+1), layoutRole(i+1), layoutDash(i+1), 2.4, &in.Result.Candidates[i], i == 0)
	}
	line.SetGlobalOptions(charts.WithLegendOpts(opts.Legend{Show: opts.Bool(false), Selected: shown}))
	return options(line, levelStep)
}

// goalArea shades the goal's band.
func goalArea(line *charts.Line, goal model.Goal) {
	line.AddSeries("", []opts.LineData{},
		charts.WithMarkAreaData(corners(goal.From, levelBottom, goal.To, levelTop)),
		charts.WithMarkAreaStyleOpts(opts.MarkAreaStyle{ItemStyle: &opts.ItemStyle{Color: roleGoal, Opacity: opts.Float(1)}}))
}

// levelCurve adds a curve without marks at its points.
func levelCurve(line *charts.Line, name, colour, dash string, width float32, data []opts.LineData, more ...charts.SeriesOpts) {
	line.AddSeries(name, data, append([]charts.SeriesOpts{
		charts.WithLineChartOpts(opts.LineChart{ShowSymbol: opts.Bool(false), Symbol: "none"}),
		charts.WithLineStyleOpts(opts.LineStyle{Color: colour, Width: width, Type: dash}),
		charts.WithItemStyleOpts(opts.ItemStyle{Color: colour}),
	}, more...)...)
}

// nowName names the present layout in every chart.
const nowName = "now"

func layoutName(n int) string { return fmt.Sprintf("layout %d", n) }

// markOpacity shades the spread of found layouts; the present one's is left to
// its line.
func markOpacity(name string) float32 {
	if name == nowName {
		return 0
	}
	return 0.12
}

// levelAxis returns the fixed level axis.
func levelAxis() opts.YAxis {
	return opts.YAxis{
		Type: "value", Min: levelBottom, Max: levelTop, Name: "dB", NameLocation: "end", NameGap: 8,
		AxisLabel: &opts.AxisLabel{Color: roleFaint, ShowMinLabel: opts.Bool(true), ShowMaxLabel: opts.Bool(true)},
		SplitLine: &opts.SplitLine{Show: opts.Bool(true), LineStyle: &opts.LineStyle{Color: roleRule}},
	}
}

// corners returns a marked rectangle in the chart's own coordinates.
func corners(x1, y1, x2, y2 float64) []opts.MarkAreaData {
	return []opts.MarkAreaData{
		{Coord: []float64{round(x1, 2), round(y1, 2)}},
		{Coord: []float64{round(x2, 2), round(y2, 2)}},
	}
}

// curveData pairs frequencies up to the axis's end with levels re the mean. A
// level of -Inf is left out.
func curveData(grid model.Grid, curve []model.Level, mean model.Level) []opts.LineData {
	var data []opts.LineData
	for i, f := range grid {
		l := float64(curve[i] - mean)
		if f < axisFrom || f > axisTo*1.05 || math.IsInf(l, 0) || math.IsNaN(l) {
			continue
		}
		data = append(data, opts.LineData{Value: []float64{round(f, 2), round(l, 2)}})
	}
	return data
}

// options returns a chart's options as JSON.
func options(line *charts.Line, step float64) ([]byte, error) {
	return optionsOn(line, logAxes{step: step})
}

// optionsOn is options with axes of one's own.
func optionsOn(line *charts.Line, axes logAxes) ([]byte, error) {
	line.Accept(axes)
	line.Validate()
	b, err := json.Marshal(line.JSON())
	if err != nil {
		return nil, fmt.Errorf("report: chart options: %w", err)
	}
	return b, nil
}

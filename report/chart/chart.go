package chart

import (
	"encoding/json"
	"fmt"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"

	"evenbass/model"
)

// Chart is a line chart over frequency.
type Chart struct {
	ID     string      // a word; the page's script finds the chart by it
	Band   model.Range // ends of the frequency axis, Hz
	Marks  []float64   // frequencies written on the axis, Hz
	Y      YAxis
	Curves []Curve // the first undermost
}

// YAxis is the upright axis of a chart, which begins at zero.
type YAxis struct {
	Name   string
	Max    float64
	Step   float64
	Places int // decimals that the data keep
}

// Options returns the chart's options as JSON for the charting library. It carries no
// functions.
func (c *Chart) Options() (json.RawMessage, error) {
	line := charts.NewLine()
	shown := map[string]bool{}
	for i := range c.Curves {
		if name := c.Curves[i].Name; name != "" {
			shown[name] = true
		}
	}
	line.SetGlobalOptions(
		charts.WithInitializationOpts(opts.Initialization{ChartID: c.ID}),
		charts.WithAnimation(false),
		charts.WithXAxisOpts(c.xAxis()),
		charts.WithYAxisOpts(c.Y.options()),
		charts.WithGridOpts(opts.Grid{Left: "48", Right: "34", Top: "30", Bottom: "30"}),
		charts.WithTooltipOpts(opts.Tooltip{Show: opts.Bool(true), Trigger: "axis"}),
		charts.WithLegendOpts(opts.Legend{Show: opts.Bool(false), Selected: shown}),
	)
	for i := range c.Curves {
		curve := &c.Curves[i]
		line.AddSeries(curve.Name, curve.data(c.Y.Places), curve.series(c.Y.Places)...)
	}
	line.Accept(logAxes{step: c.Y.Step, marks: c.Marks})
	line.Validate()
	b, err := json.Marshal(line.JSON())
	if err != nil {
		return nil, fmt.Errorf("report: chart options: %w", err)
	}
	return b, nil
}

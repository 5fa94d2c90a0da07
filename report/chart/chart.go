package chart

import (
	"encoding/json"
	"fmt"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"

	"evenbass/model"
)

// Chart is a line chart over frequency. Everything but the curves is the same on all
// charts of all pages unless a field says otherwise.
type Chart struct {
	ID       string     // a word; the page's script finds the chart by it
	From, To float64    // ends of the frequency axis, Hz; zero is 20 to 300
	Marks    []float64  // frequencies written on the axis, Hz; nil is the third octaves of ISO 266
	Y        YAxis      // the zero value is the axis of levels
	Goal     model.Goal // the shaded band; zero shades nothing
	Curves   []Curve    // the first undermost
	Legend   *Legend    // nil: the page has a legend of its own
	EachTip  bool       // the tooltip is for a single point, not for all curves at a frequency
}

// YAxis is the upright axis of a chart.
type YAxis struct {
	Name     string
	Min, Max float64 // Max 0 leaves the end to the data
	Step     float64 // 0 leaves it to the data
	Places   int     // decimals that the data keep
}

// Legend names the curves above a chart and switches them with a click.
type Legend struct {
	Names []string // in this order; nil is the curves' own order
	Wide  bool     // two lines over the whole width instead of one at the right
}

// Curve is one curve of a chart.
type Curve struct {
	Name         string // in legend and tooltip; one without a name has no words there
	Colour, Dash string // a colour role; solid, dashed or dotted
	Width        float64
	Hidden       bool // until the page's script shows it
	Points       []Point

	Symbol string // drawn at points with a name: circle, rect, triangle; "" draws none
	Size   int    // of the symbol

	Fill  float64 // opacity of the area within the curve, which then has no line
	Shade *Shade  // a rectangle that belongs to the curve
	Label *Label  // a letter on the curve
}

// Point is a point of a curve. A Y that is not a number breaks the curve.
type Point struct {
	X, Y float64
	Name string
}

// Shade is a rectangle in the chart's own coordinates.
type Shade struct {
	From, To  float64 // Hz
	Low, High float64
	Opacity   float64
}

// Label is a letter in a circle at a point of its curve.
type Label struct {
	Letter string
	At     Point
}

// Ends of the axis of levels, dB re the curve's mean: 50 dB in steps of 5, the same
// on every chart of every report, so that two reports can be compared side by side.
const (
	LevelTop    = 20
	LevelBottom = -30
	levelStep   = 5
)

// levelAxis is the fixed axis of levels.
func levelAxis() YAxis {
	return YAxis{Name: "dB", Min: LevelBottom, Max: LevelTop, Step: levelStep, Places: 2}
}

// Options returns the chart's options as JSON for the charting library. It carries no
// functions.
func (c *Chart) Options() (json.RawMessage, error) {
	y := c.Y
	if y == (YAxis{}) {
		y = levelAxis()
	}
	line := charts.NewLine()
	trigger := "axis"
	if c.EachTip {
		trigger = "item"
	}
	legend, top := c.legend()
	line.SetGlobalOptions(
		charts.WithInitializationOpts(opts.Initialization{ChartID: c.ID}),
		charts.WithAnimation(false),
		charts.WithXAxisOpts(c.xAxis()),
		charts.WithYAxisOpts(y.options()),
		charts.WithGridOpts(opts.Grid{Left: "48", Right: "34", Top: top, Bottom: "30"}),
		charts.WithTooltipOpts(opts.Tooltip{Show: opts.Bool(true), Trigger: trigger}),
		charts.WithLegendOpts(legend),
	)
	if c.Goal.To > 0 {
		line.AddSeries("", []opts.LineData{}, shade(roleGoal, &Shade{From: c.Goal.From, To: c.Goal.To, Low: y.Min, High: y.Max, Opacity: 1})...)
	}
	for i := range c.Curves {
		curve := &c.Curves[i]
		line.AddSeries(curve.Name, curve.data(y.Places), curve.look(y.Places)...)
	}
	line.Accept(logAxes{step: y.Step, marks: c.Marks})
	line.Validate()
	b, err := json.Marshal(line.JSON())
	if err != nil {
		return nil, fmt.Errorf("report: chart options: %w", err)
	}
	return b, nil
}

// legend returns the options of the legend and how far below the top the curves begin.
func (c *Chart) legend() (legend opts.Legend, top string) {
	if c.Legend == nil {
		shown := map[string]bool{}
		for i := range c.Curves {
			if name := c.Curves[i].Name; name != "" {
				shown[name] = !c.Curves[i].Hidden
			}
		}
		return opts.Legend{Show: opts.Bool(false), Selected: shown}, "30"
	}
	legend = opts.Legend{
		Show: opts.Bool(true), Top: "0", TextStyle: &opts.TextStyle{Color: roleInk}, InactiveColor: roleRule,
	}
	if c.Legend.Names != nil {
		legend.Data = c.Legend.Names
	}
	if c.Legend.Wide {
		return legend, "56"
	}
	legend.Right = "20"
	return legend, "30"
}

package chart

import (
	"fmt"

	"evenbass/report/unit"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"
)

// Colour roles. The page's style sheet gives each a colour for light, dark and
// print; the page's script puts it in place of the role's name.
const (
	roleInk   = "var(--ink)"
	rolePaper = "var(--paper)"
	roleFaint = "var(--faint)"
	roleRule  = "var(--rule)"
)

// Curve is one curve of a chart.
type Curve struct {
	Name         string // in the tooltip; one without a name has no words there
	Colour, Dash string // a colour role; solid, dashed or dotted
	Width        float64
	Points       []Point

	Fill  float64 // opacity of the area within the curve, which then has no line
	Label *Label  // a letter on the curve
}

// Point is a point of a curve.
type Point struct{ X, Y float64 }

// Label is a letter in a circle at a point of its curve.
type Label struct {
	Letter string
	At     Point
}

// RoleOf returns the colour role of layout n, counted from 1.
func RoleOf(n int) string { return fmt.Sprintf("var(--layout-%d)", (n-1)%5+1) }

// Layout is the look of the n-th thing that is compared, counted from 1. Colour is never the only
// difference.
func Layout(n int, name string) Curve {
	dash := []string{"solid", "dashed", "dotted"}[(n-1)%3]
	return Curve{Name: name, Colour: RoleOf(n), Dash: dash, Width: 2.4}
}

// data returns the curve's points with so many decimals.
func (c *Curve) data(places int) []opts.LineData {
	data := make([]opts.LineData, len(c.Points))
	for i, p := range c.Points {
		data[i].Value = p.rounded(places)
	}
	return data
}

// rounded returns the frequency with two decimals and the value with so many.
func (p Point) rounded(places int) []float64 {
	return []float64{unit.Round(p.X, 2), unit.Round(p.Y, places)}
}

// series returns how the curve is drawn.
func (c *Curve) series(places int) []charts.SeriesOpts {
	style := opts.LineStyle{Color: c.Colour, Width: float32(c.Width), Type: c.Dash}
	if c.Fill > 0 {
		style.Opacity = opts.Float(0)
	}
	series := []charts.SeriesOpts{
		charts.WithLineChartOpts(opts.LineChart{ShowSymbol: opts.Bool(false), Symbol: "none"}),
		charts.WithLineStyleOpts(style), charts.WithItemStyleOpts(opts.ItemStyle{Color: c.Colour}),
	}
	if c.Fill > 0 {
		series = append(series, charts.WithAreaStyleOpts(opts.AreaStyle{Color: c.Colour, Opacity: opts.Float(float32(c.Fill))}))
	}
	if l := c.Label; l != nil {
		at := l.At.rounded(places)
		series = append(series, charts.WithMarkPointNameCoordItemOpts(opts.MarkPointNameCoordItem{
			Name: l.Letter, Coordinate: []interface{}{at[0], at[1]}, Symbol: "circle", SymbolSize: 17,
			ItemStyle: &opts.ItemStyle{Color: rolePaper, BorderColor: c.Colour, BorderWidth: 1.5},
			Label:     &opts.Label{Show: opts.Bool(true), Formatter: l.Letter, Color: roleInk, FontSize: 11},
		}))
	}
	return series
}

package chart

import (
	"fmt"
	"math"

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
	roleGoal  = "var(--goal)"
)

// RoleOf returns the colour role of layout n, counted from 1.
func RoleOf(n int) string { return fmt.Sprintf("var(--layout-%d)", (n-1)%5+1) }

// layoutDash returns the line of layout n: colour is never the only difference.
func layoutDash(n int) string { return []string{"solid", "dashed", "dotted"}[(n-1)%3] }

// data returns the curve's points with so many decimals.
func (c *Curve) data(places int) []opts.LineData {
	var data []opts.LineData
	for _, p := range c.Points {
		d := opts.LineData{Name: p.Name, Value: []float64{unit.Round(p.X, 2), unit.Round(p.Y, places)}}
		switch {
		case math.IsNaN(p.Y):
			d = opts.LineData{Value: []string{"-", "-"}}
		case c.Symbol != "" && p.Name != "":
			d.Symbol, d.SymbolSize = c.Symbol, c.Size
		case c.Symbol != "":
			d.Symbol = "none"
		}
		data = append(data, d)
	}
	return data
}

// look returns how the curve is drawn.
func (c *Curve) look(places int) []charts.SeriesOpts {
	chart := opts.LineChart{ShowSymbol: opts.Bool(false), Symbol: "none"}
	if c.Symbol != "" {
		chart = opts.LineChart{ShowSymbol: opts.Bool(true), Symbol: c.Symbol, SymbolSize: c.Size}
	}
	style := opts.LineStyle{Color: c.Colour, Width: float32(c.Width), Type: c.Dash}
	if c.Fill > 0 {
		style.Opacity = opts.Float(0)
	}
	look := []charts.SeriesOpts{
		charts.WithLineChartOpts(chart), charts.WithLineStyleOpts(style), charts.WithItemStyleOpts(opts.ItemStyle{Color: c.Colour}),
	}
	if c.Fill > 0 {
		look = append(look, charts.WithAreaStyleOpts(opts.AreaStyle{Color: c.Colour, Opacity: opts.Float(float32(c.Fill))}))
	}
	if c.Shade != nil {
		look = append(look, shade(c.Colour, c.Shade)...)
	}
	if l := c.Label; l != nil {
		look = append(look, charts.WithMarkPointNameCoordItemOpts(opts.MarkPointNameCoordItem{
			Name: l.Letter, Coordinate: []interface{}{unit.Round(l.At.X, 2), unit.Round(l.At.Y, places)}, Symbol: "circle", SymbolSize: 17,
			ItemStyle: &opts.ItemStyle{Color: rolePaper, BorderColor: c.Colour, BorderWidth: 1.5},
			Label:     &opts.Label{Show: opts.Bool(true), Formatter: l.Letter, Color: roleInk, FontSize: 11},
		}))
	}
	return look
}

// shade marks a rectangle in a colour.
func shade(colour string, s *Shade) []charts.SeriesOpts {
	return []charts.SeriesOpts{
		charts.WithMarkAreaData([]opts.MarkAreaData{
			{Coord: []float64{unit.Round(s.From, 2), unit.Round(s.Low, 2)}},
			{Coord: []float64{unit.Round(s.To, 2), unit.Round(s.High, 2)}},
		}),
		charts.WithMarkAreaStyleOpts(opts.MarkAreaStyle{ItemStyle: &opts.ItemStyle{Color: colour, Opacity: opts.Float(float32(s.Opacity))}}),
	}
}

// Layout is the look of the n-th thing that is compared, counted from 1.
func Layout(n int, name string) Curve {
	return Curve{Name: name, Colour: RoleOf(n), Dash: layoutDash(n), Width: 2.4}
}

package report

import (
	"fmt"
	"strings"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize"
)

// subCurve is one curve of a chart of subwoofers with its entry in the legend.
type subCurve struct {
	name, colour, dash, swatch string
	width                      float32
	level                      []model.Level
	mean                       model.Level // that of 0 dB
}

// shown is the plan that is drawn: what pays or, if nothing does, the last that was tried.
func (m *SubReport) shown() *optimize.SubPlan {
	if n := m.Enough(); n > 0 {
		return &m.Result.Plans[n]
	}
	return &m.Result.Plans[len(m.Result.Plans)-1]
}

// sums are the curves without and with subwoofers at a seat, both channels playing, each
// against its own mean.
func (m *SubReport) sums(seat int) []subCurve {
	of := func(c subCurve, p *optimize.SubPlan) subCurve {
		j := &p.Seats[seat].Judgement
		c.level, c.mean = j.Curves[response.BothTogether], j.Figures[response.BothTogether].Mean
		return c
	}
	list := []subCurve{of(subCurve{name: counted(0), colour: roleNow, dash: "dashed", swatch: "now", width: 1.6}, &m.Result.Plans[0])}
	if p := m.shown(); len(p.Subs) > 0 {
		list = append(list, of(subCurve{name: counted(len(p.Subs)), colour: layoutRole(1), dash: "solid", swatch: "layout1", width: 2.4}, p))
	}
	if now := m.Result.Now; now != nil {
		list = append(list, of(subCurve{name: "those that stand now, set well", colour: layoutRole(5), dash: "dotted", swatch: "layout5 dash3", width: 2}, now))
	}
	return list
}

// ways are what the speakers and the subwoofers each bring to a seat and what that adds
// up to, both channels playing, all against the mean of the sum.
func (m *SubReport) ways(seat int) []subCurve {
	s := &m.shown().Seats[seat]
	reader := response.NewReader(m.Grid, m.Project.Room.Air(), m.Result.Goal)
	mean := s.Judgement.Figures[response.BothTogether].Mean
	return []subCurve{
		{"the speakers alone, high-pass included", layoutRole(2), "dashed", "layout2 dash2", 1.8, reader.Smooth(s.Mains.Of(response.BothTogether)), mean},
		{"the subwoofers alone, as set", layoutRole(3), "dotted", "layout3 dash3", 2, reader.Smooth(subsAlone(s)), mean},
		{"everything together", layoutRole(1), "solid", "layout1", 2.4, s.Judgement.Curves[response.BothTogether], mean},
	}
}

// subsAlone is what all subwoofers bring to a seat with both channels playing, each of
// which they get.
func subsAlone(s *optimize.SubSeat) []complex128 {
	sum := make([]complex128, len(s.Mains.Left))
	for _, way := range s.Subs {
		for i, v := range way {
			sum[i] += 2 * v
		}
	}
	return sum
}

// subChart returns the options of a chart of curves; the legend is the page's own.
func (m *SubReport) subChart(id string, curves []subCurve) ([]byte, error) {
	line, goal := charts.NewLine(), m.Result.Goal
	line.SetGlobalOptions(
		charts.WithInitializationOpts(opts.Initialization{ChartID: id}),
		charts.WithAnimation(false),
		charts.WithXAxisOpts(frequencyAxis()), charts.WithYAxisOpts(levelAxis()),
		charts.WithGridOpts(opts.Grid{Left: "48", Right: "34", Top: "30", Bottom: "30"}),
		charts.WithTooltipOpts(opts.Tooltip{Show: opts.Bool(true), Trigger: "axis"}),
		charts.WithLegendOpts(opts.Legend{Show: opts.Bool(false)}),
	)
	line.AddSeries("", []opts.LineData{},
		charts.WithMarkAreaData(corners(goal.From, levelBottom, goal.To, levelTop)),
		charts.WithMarkAreaStyleOpts(opts.MarkAreaStyle{ItemStyle: &opts.ItemStyle{Color: roleGoal, Opacity: opts.Float(1)}}))
	for _, c := range curves {
		line.AddSeries(c.name, curveData(m.Grid, c.level, c.mean),
			charts.WithLineChartOpts(opts.LineChart{ShowSymbol: opts.Bool(false), Symbol: "none"}),
			charts.WithLineStyleOpts(opts.LineStyle{Color: c.colour, Width: c.width, Type: c.dash}),
			charts.WithItemStyleOpts(opts.ItemStyle{Color: c.colour}))
	}
	return options(line, levelStep)
}

// charts returns a chart of each seat, or an error of the charting library.
func (m *SubReport) charts(id, title string, curves func(seat int) []subCurve) ([]chartView, error) {
	var list []chartView
	seats := m.Result.Plans[0].Seats
	for i := range seats {
		own := curves(i)
		options, err := m.subChart(fmt.Sprintf("%s_%d", id, i), own)
		if err != nil {
			return nil, err
		}
		list = append(list, chartView{
			ID: fmt.Sprintf("%s_%d", id, i), Title: title + m.seat(i), Label: subChartLabel(title+m.seat(i), own),
			Wide: len(seats) == 1, Options: options,
		})
	}
	return list, nil
}

// subChartLabel says in words what a chart shows.
func subChartLabel(title string, curves []subCurve) string {
	var names []string
	for _, c := range curves {
		names = append(names, c.name)
	}
	return "Chart of level over frequency, " + title + ": " + strings.Join(names, "; ") + ". The tables give the figures."
}

func subLegend(curves []subCurve) []legendEntry {
	var list []legendEntry
	for _, c := range curves {
		list = append(list, legendEntry{c.swatch, c.name})
	}
	return list
}

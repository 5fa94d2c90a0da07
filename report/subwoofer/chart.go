package subwoofer

import (
	"encoding/json"
	"fmt"
	"strings"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/subwoofer"
	"evenbass/report/chart"
	"evenbass/report/html"
)

// curveEntry is one curve of a chart of subwoofers with its entry in the legend.
type curveEntry struct {
	chart.Curve
	swatch string
}

// shown is the plan that is drawn: what pays or, if nothing does, the last that was tried.
func (m *Report) shown() *subwoofer.Plan {
	if n := m.worthwhile(); n > 0 {
		return &m.Result.Plans[n]
	}
	return &m.Result.Plans[len(m.Result.Plans)-1]
}

// sums are the curves without and with subwoofers at a seat, both channels playing, each
// against its own mean.
func (m *Report) sums(seat int) []curveEntry {
	var list []curveEntry
	add := func(c chart.Curve, name, swatch string, p *subwoofer.Plan) {
		j := &p.Seats[seat].Judgement
		c.Name = name
		c.Points = chart.Levels(m.Grid, j.Curves[response.BothTogether], j.Figures[response.BothTogether].Mean)
		list = append(list, curveEntry{c, swatch})
	}
	add(chart.Now(), counted(0), "now", &m.Result.Plans[0])
	if p := m.shown(); len(p.Units) > 0 {
		add(chart.Layout(1, ""), counted(len(p.Units)), "layout1", p)
	}
	if now := m.Result.Now; now != nil {
		add(chart.Curve{Colour: chart.RoleOf(5), Dash: "dotted", Width: 2}, "the present ones, set well", "layout5 dash3", now)
	}
	return list
}

// parts are what the speakers and the subwoofers each bring to a seat and what that adds
// up to, both channels playing, all against the mean of the sum.
func (m *Report) parts(seat int) []curveEntry {
	s := &m.shown().Seats[seat]
	reader := response.NewReader(m.Grid, m.Project.Room.Air(), m.Result.Goal)
	mean := s.Judgement.Figures[response.BothTogether].Mean
	curve := func(name, colour, dash string, width float64, levels []model.Level) chart.Curve {
		return chart.Curve{Name: name, Colour: colour, Dash: dash, Width: width, Points: chart.Levels(m.Grid, levels, mean)}
	}
	return []curveEntry{
		{curve("the speakers alone, high-pass included", chart.RoleOf(2), "dashed", 1.8, reader.Smooth(s.Mains.Of(response.BothTogether))), "layout2 dash2"},
		{curve("the subwoofers alone, as set", chart.RoleOf(3), "dotted", 2, reader.Smooth(subsAlone(s))), "layout3 dash3"},
		{curve("everything together", chart.RoleOf(1), "solid", 2.4, s.Judgement.Curves[response.BothTogether]), "layout1"},
	}
}

// subsAlone is what all subwoofers bring to a seat with both channels playing, each of
// which they get.
func subsAlone(s *subwoofer.Seat) []complex128 {
	sum := make([]complex128, len(s.Mains.Left))
	for _, way := range s.Units {
		for i, v := range way {
			sum[i] += 2 * v
		}
	}
	return sum
}

// subChart returns the options of a chart of curves; the legend is the page's own.
func (m *Report) subChart(id string, curves []curveEntry) (json.RawMessage, error) {
	line := chart.Chart{ID: id, Goal: m.Result.Goal}
	for _, c := range curves {
		line.Curves = append(line.Curves, c.Curve)
	}
	return line.Options()
}

// charts returns a chart of each seat, or an error of the charting library.
func (m *Report) charts(id string, curves func(seat int) []curveEntry) ([]html.Chart, error) {
	var list []html.Chart
	seats := m.Result.Plans[0].Seats
	for i := range seats {
		own := curves(i)
		options, err := m.subChart(fmt.Sprintf("%s_%d", id, i), own)
		if err != nil {
			return nil, err
		}
		list = append(list, html.Chart{
			ID: fmt.Sprintf("%s_%d", id, i), Title: m.seat(i), Label: chartLabel(m.seat(i), own),
			Wide: len(seats) == 1, Options: options,
		})
	}
	return list, nil
}

// chartLabel says in words what a chart shows.
func chartLabel(title string, curves []curveEntry) string {
	var names []string
	for _, c := range curves {
		names = append(names, c.Name)
	}
	return "Chart of level over frequency, " + title + ": " + strings.Join(names, "; ") + ". The tables give the figures."
}

func legendOf(curves []curveEntry) []html.LegendEntry {
	var list []html.LegendEntry
	for _, c := range curves {
		list = append(list, html.LegendEntry{Swatch: c.swatch, Text: c.Name})
	}
	return list
}

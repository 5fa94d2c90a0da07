package report

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize"
)

// Maps is a survey of the floor with all that is reported of it.
type Maps struct {
	Project  *model.Project
	Survey   *optimize.Survey
	Number   int // of the layout surveyed; 0 is as things stand
	Engine   string
	Why      string          // why that one was chosen, one clause; may be empty
	Warnings []model.Warning // beyond those of the project
	Style    Style
	Run      Run
}

// check reports what keeps maps from being shown at all.
func (m *Maps) check() error {
	switch {
	case m.Project == nil:
		return errors.New("report: no project to map")
	case m.Survey == nil:
		return errors.New("report: no survey to show")
	}
	return nil
}

// Places that a survey's list offers for the chair.
const (
	offered      = 5
	offeredApart = 0.30 // m
)

// where writes a place on the floor.
func where(v r3.Vec, s Style) string {
	return fmt.Sprintf("%s from the front wall and %s from the left wall", s.Tape(v.X), s.Tape(v.Y))
}

// recipe is how the spread of a map is measured.
func (m *Maps) recipe() string {
	return fmt.Sprintf("%v; the worst of left, right, both", m.Survey.Chair.Goal)
}

// chairsTable lists the best allowed places for the chair with their spread.
func (m *Maps) chairsTable() table {
	c, s := &m.Survey.Chair, m.Style
	t := table{
		Caption: "The best places for the chair with the speakers " + m.stay(),
		Head:    []string{"place", "from front wall", "from left wall", "spread", "versus the best"},
		Align:   "lrrrr",
	}
	if m.Survey.Seated {
		t.Head = append(t.Head, "versus "+m.here())
	}
	row := func(name string, at r3.Vec, spread, best model.Level) {
		cells := []string{name, s.cell(at.X), s.cell(at.Y), Spread(spread), moreText(spread - best)}
		if m.Survey.Seated {
			cells = append(cells, gainText(m.Survey.Here-spread))
		}
		t.Rows = append(t.Rows, cells)
	}
	places := c.Places(offered, offeredApart)
	if len(places) == 0 {
		return t
	}
	best := c.Spread[places[0]]
	if m.Survey.Seated {
		best = min(best, m.Survey.Here)
	}
	for i, n := range places {
		row(fmt.Sprint(i+1), c.Place(n), c.Spread[n], best)
	}
	if m.Survey.Seated {
		row(m.here(), m.Survey.Layout.Seat, m.Survey.Here, best)
	}
	return t
}

// stay says where the speakers of a survey stay.
func (m *Maps) stay() string {
	if m.Number == 0 {
		return "where they stand now"
	}
	return "as in " + m.here()
}

// here names the survey's own layout.
func (m *Maps) here() string {
	if m.Number == 0 {
		return "now"
	}
	return layoutName(m.Number)
}

// moreText writes by how much a spread is more than the best.
func moreText(more model.Level) string {
	if text := decimal(float64(more), 1); text != "0.0" {
		return text + " dB more"
	}
	return "the best"
}

// summary says in a few sentences where the chair could go.
func (m *Maps) summary() []string {
	c, s := &m.Survey.Chair, m.Style
	best, ok := c.Best(c.Allowed)
	if !ok {
		return []string{"With the speakers " + m.stay() + ", the rules of the room file leave no place for the chair."}
	}
	worst, _ := c.Worst(c.Allowed)
	pace, _ := c.Pace()
	lines := []string{
		fmt.Sprintf("Of the allowed places, about %s apart, the best is %s: %s. The worst is %s: %s.", s.Tape(pace),
			where(c.Place(best), s), Spread(c.Spread[best]), where(c.Place(worst), s), Spread(c.Spread[worst])),
		fmt.Sprintf("Of the %s where the chair may be, %s is within 1 dB of the best and %s within 2 dB.",
			s.Area(m.area(c.Allowed)), percent(c.Within(1, c.Allowed)), percent(c.Within(2, c.Allowed))),
	}
	if any, ok := c.Best(c.Open); ok && c.Spread[any] < c.Spread[best]-0.5 {
		lines = append(lines, fmt.Sprintf("Without your rules the best is %s, with %s; there, %s.",
			where(c.Place(any), s), Spread(c.Spread[any]), printable(c.Rule[any])))
	}
	for _, b := range c.Anyway {
		lines = append(lines, fmt.Sprintf("One rule is broken wherever the chair is: %s.", breachLines([]model.Breach{b}, s)[0]))
	}
	return lines
}

// area returns how much of the floor is asked for, m².
func (m *Maps) area(among func(int) bool) float64 {
	c := &m.Survey.Chair
	dx, dy := c.Pace()
	count := 0
	for n := range c.Len() {
		if among(n) {
			count++
		}
	}
	return dx * dy * float64(count)
}

// forgiving lists how the spread grows when something is off its mark.
func (m *Maps) forgiving() table {
	t := table{
		Caption: fmt.Sprintf("The largest spread with the chair or the speakers off their marks (%s exactly in place)", Spread(m.Survey.Here)),
		Head:    []string{"off by up to"},
	}
	for i := range m.Survey.About {
		t.Head = append(t.Head, m.offName(i))
	}
	for _, radius := range []float64{0.10, 0.20, 0.30} {
		row := []string{m.Style.Tape(radius)}
		for i := range m.Survey.About {
			row = append(row, Spread(m.Survey.About[i].Reach(radius)))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// offName names what map i about the marks moves.
func (m *Maps) offName(i int) string {
	moved := m.Survey.About[i].Moved
	if moved == optimize.ThePair {
		return "both speakers, mirrored"
	}
	return "the " + string(moved)
}

// toneLines says for each frequency how loud it is where.
func (m *Maps) toneLines() []string {
	l := &m.Survey.Levels
	var lines []string
	for _, f := range m.Survey.Telling {
		i := l.Grid.Nearest(f)
		lines = append(lines, fmt.Sprintf("%s: %s", Frequency(l.Grid[i]), m.toneText(i)))
	}
	return lines
}

// toneText says how loud frequency i of the map is where, both speakers together.
func (m *Maps) toneText(i int) string {
	l, c := &m.Survey.Levels, response.BothTogether
	quiet, loud, ok := l.Extremes(c, i)
	if !ok {
		return "unknown"
	}
	seat := l.At(c, l.Nearest(m.Survey.Layout.Seat), i)
	return fmt.Sprintf("%s at the chair; quietest %s at %s, loudest %s at %s; the mean over the floor is %s",
		Decibels(seat), Decibels(l.At(c, quiet, i)), where(l.Place(quiet), m.Style), Decibels(l.At(c, loud, i)), where(l.Place(loud), m.Style),
		aboutBand(l.Means[c][i]))
}

// aboutBand writes a mean over the floor relative to that over the band.
func aboutBand(mean model.Level) string {
	switch text := Difference(max(mean, -mean)); {
	case text == "0.0 dB":
		return "the same as the band's"
	case mean < 0:
		return text + " below the band's"
	default:
		return text + " above the band's"
	}
}

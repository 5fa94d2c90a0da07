package floormap

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/floormap"
	"evenbass/report/card"
	"evenbass/report/html"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// Report is a survey of the floor with all that is reported of it.
type Report struct {
	Project  *model.Project
	Survey   *floormap.Survey
	Number   int // of the layout surveyed; 0 is as things stand
	Engine   model.EngineInfo
	Why      string          // why that one was chosen, one clause; may be empty
	Warnings []model.Warning // beyond those of the project
	Full     bool            // the text holds everything, not only what comes first
	Style    unit.Style
	Run      html.Run
}

// check reports what keeps maps from being shown.
func (m *Report) check() error {
	switch {
	case m.Project == nil:
		return errors.New("report: no project to map")
	case m.Survey == nil:
		return errors.New("report: no survey to show")
	}
	return nil
}

// warnings are those of the project and of the survey.
func (m *Report) warnings() []model.Warning {
	return text.UniqueWarnings(m.Project.Warnings, m.Warnings)
}

// Places that a survey's list offers for the chair.
const (
	offered      = 5
	offeredApart = 0.30 // m
)

// where writes a place on the floor.
func where(v r3.Vec, s unit.Style) string {
	return fmt.Sprintf("%s from the front wall and %s from the left wall", s.Tape(v.X), s.Tape(v.Y))
}

// recipe is how the spread of a map is measured.
func (m *Report) recipe() string {
	return fmt.Sprintf("%v; the worst of left, right, both", m.Survey.Chair.Goal)
}

// chairsTable lists the allowed places of least spread for the chair.
func (m *Report) chairsTable() text.Table {
	c, s := &m.Survey.Chair, m.Style
	t := text.Table{
		Caption: "The places of least spread for the chair with the speakers " + m.stay(),
		Head:    []string{"place", "from front wall", "from left wall", "spread", "above the least"},
		Align:   "lrrrr",
	}
	if m.Survey.HasSeat {
		t.Head = append(t.Head, "versus "+m.here())
	}
	row := func(name string, at r3.Vec, spread, least model.Level) {
		cells := []string{name, s.Cell(at.X), s.Cell(at.Y), unit.Spread(spread), moreText(spread - least)}
		if m.Survey.HasSeat {
			cells = append(cells, unit.GainText(m.Survey.Here-spread))
		}
		t.Rows = append(t.Rows, cells)
	}
	places := c.Places(offered, offeredApart)
	if len(places) == 0 {
		return t
	}
	least := c.Spread[places[0]]
	if m.Survey.HasSeat {
		least = min(least, m.Survey.Here)
	}
	for i, n := range places {
		row(fmt.Sprint(i+1), c.Place(n), c.Spread[n], least)
	}
	if m.Survey.HasSeat {
		row(m.here(), m.Survey.Layout.Seat, m.Survey.Here, least)
	}
	return t
}

// cardsTable compares the best place for the chair with where it is.
func (m *Report) cardsTable() text.Table {
	states := m.states()
	if !m.Survey.HasSeat && len(states) > 1 {
		states = states[1:]
	}
	return card.Table(states, m.Survey.HasSeat, m.Style)
}

// stay says where the speakers of a survey stay.
func (m *Report) stay() string {
	if m.Number == 0 {
		return "where they stand now"
	}
	return "as in " + m.here()
}

// here names the survey's own layout.
func (m *Report) here() string {
	if m.Number == 0 {
		return "now"
	}
	return text.LayoutName(m.Number)
}

// moreText writes by how much a spread is more than the least.
func moreText(more model.Level) string {
	if text := unit.Decimal(float64(more), 1); text != "0.0" {
		return text + " dB more"
	}
	return "the least"
}

// summary says in a few sentences where the chair could go.
func (m *Report) summary() []string {
	c, s := &m.Survey.Chair, m.Style
	best, ok := c.Best(c.Allowed)
	if !ok {
		return []string{"With the speakers " + m.stay() + ", the rules of the room file leave no place for the chair."}
	}
	worst, _ := c.Worst(c.Allowed)
	var lines []string
	if advice := m.advice(); advice != "" {
		lines = append(lines, advice)
	}
	lines = append(lines,
		fmt.Sprintf("%s The worst gives %s.", m.leastLine(best), unit.Spread(c.Spread[worst])),
		fmt.Sprintf("%s of the allowed places are within 1 dB of the least.", text.Sentence(unit.Percent(c.Within(1, c.Allowed)))),
	)
	lacksOne := func(n int) bool {
		l := m.Survey.Layout
		l.Seat = c.Place(n)
		return c.Open(n) && len(m.Project.Breaches(l)) == len(c.Anyway)+1
	}
	if any, ok := c.Best(lacksOne); ok && c.Spread[any] < c.Spread[best]-0.5 {
		lines = append(lines, fmt.Sprintf("But for one rule it would be least %s, with %s; there, %s.",
			where(c.Place(any), s), unit.Spread(c.Spread[any]), text.RuleText(c.Rule[any])))
	}
	for _, b := range c.Anyway {
		lines = append(lines, fmt.Sprintf("One rule is broken wherever the chair is: %s.", text.BreachLines([]model.Breach{b}, s)[0]))
	}
	return lines
}

// forgiving lists how the spread grows when something is off its mark.
func (m *Report) forgiving() text.Table {
	t := text.Table{
		Caption: fmt.Sprintf("The largest spread with the chair or the speakers off their marks (%s exactly in place)", unit.Spread(m.Survey.Here)),
		Head:    []string{"off by up to"},
	}
	for i := range m.Survey.Around {
		t.Head = append(t.Head, m.offName(i))
	}
	for _, radius := range []float64{0.10, 0.20, 0.30} {
		row := []string{m.Style.Tape(radius)}
		for i := range m.Survey.Around {
			row = append(row, unit.Spread(m.Survey.Around[i].Reach(radius)))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// offName names what map i about the marks moves.
func (m *Report) offName(i int) string {
	moved := m.Survey.Around[i].Moved
	if moved == floormap.Pair {
		return "both speakers, mirrored"
	}
	return "the " + string(moved)
}

// toneLines says for each frequency how loud it is where.
func (m *Report) toneLines() []string {
	l := &m.Survey.Levels
	var lines []string
	for _, f := range m.Survey.Frequencies {
		i := l.Grid.Nearest(f)
		lines = append(lines, fmt.Sprintf("%s: %s", unit.Frequency(l.Grid[i]), m.toneText(i)))
	}
	return lines
}

// toneText says where on the floor frequency i of the map is loud and where it is soft, both speakers
// together.
func (m *Report) toneText(i int) string {
	l, c := &m.Survey.Levels, response.BothTogether
	quiet, loud, ok := l.Extremes(c, i)
	if !ok {
		return "unknown"
	}
	seat := l.At(c, l.Nearest(m.Survey.Layout.Seat), i)
	return fmt.Sprintf("%s at the chair; quietest %s at %s, loudest %s at %s; the mean over the floor is %s",
		unit.Decibels(seat), unit.Decibels(l.At(c, quiet, i)), where(l.Place(quiet), m.Style), unit.Decibels(l.At(c, loud, i)), where(l.Place(loud), m.Style),
		aboutBand(l.Means[c][i]))
}

// aboutBand writes a mean over the floor relative to that over the band.
func aboutBand(mean model.Level) string {
	switch text := unit.Difference(max(mean, -mean)); {
	case text == "0.0 dB":
		return "the same as the band's"
	case mean < 0:
		return text + " below the band's"
	default:
		return text + " above the band's"
	}
}

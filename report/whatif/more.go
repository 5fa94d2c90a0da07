package whatif

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/optimize/whatif"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// moreTable is a table that only some comparisons have.
type moreTable struct {
	ID, Title string
	Table     text.Table
}

// moreTables are the decay of each mode, and the best places of each state.
func (w *Report) moreTables() []moreTable {
	var list []moreTable
	if w.Result.Now.Modes != nil {
		list = append(list, moreTable{"modes", "How fast each mode decays", w.modeTable()})
	}
	if w.Result.Now.Places != nil {
		list = append(list, moreTable{"places", "The best places", w.placesTable()})
	}
	return list
}

// modeTable is the time in which each of the lowest modes decays by 20 dB.
func (w *Report) modeTable() text.Table {
	t := text.Table{Caption: "Time in ms in which each of the lowest modes of the box decays by 20 dB, by its frequency between rigid walls and its half waves along length, width and height", Head: []string{""}}
	for _, m := range w.Result.Now.Modes {
		t.Head = append(t.Head, fmt.Sprintf("%.0f Hz\n%d,%d,%d", m.Frequency, m.N[0], m.N[1], m.N[2]))
	}
	for i, v := range w.states() {
		row := []string{stateName(i)}
		for _, m := range v.Modes {
			cell := unit.Unknown
			if m.Fall20 > 0 {
				cell = unit.Decimal(1000*m.Fall20, 0)
			}
			row = append(row, cell)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// placesTable says where things stand best in each state.
func (w *Report) placesTable() text.Table {
	t := text.Table{
		Caption: "The best places of each state, each from its own search within the zones of the room file: tape distances from the front wall and from the left wall",
		Head:    []string{"", "spread", "change", "left woofer", "right woofer", "seat"},
	}
	at := func(p r3.Vec) string { return w.Style.Tape(p.X) + ", " + w.Style.Tape(p.Y) }
	now := w.Result.Now.Places
	for i, v := range w.states() {
		c := v.Places
		if c == nil {
			continue
		}
		change := ""
		if c != now {
			change = unit.Decibels(c.Judgement.Spread() - now.Judgement.Spread())
		}
		t.Rows = append(t.Rows, []string{stateName(i), unit.Spread(c.Judgement.Spread()), change, at(c.Layout.Left), at(c.Layout.Right), at(c.Layout.Seat)})
	}
	return t
}

// placesLine says which option is best once everything stands at its best place; "" if places were not
// searched.
func (w *Report) placesLine() string {
	spread := func(v *whatif.State) model.Level { return v.Places.Judgement.Spread() }
	r, best := w.Result, -1
	if r.Now.Places == nil {
		return ""
	}
	for i := range r.States {
		if r.States[i].Places != nil && (best < 0 || spread(&r.States[i]) < spread(&r.States[best])) {
			best = i
		}
	}
	now := spread(&r.Now)
	switch {
	case best < 0:
		return ""
	case now-spread(&r.States[best]) < text.Noticeable:
		return fmt.Sprintf(" Moving speakers and seat alone reaches %s; no option at its own best places improves on that by 1 dB.", unit.Spread(now))
	}
	return fmt.Sprintf(" Moving speakers and seat alone reaches %s; %s at its own best places reaches %s.", unit.Spread(now), letterOf(best), unit.Spread(spread(&r.States[best])))
}

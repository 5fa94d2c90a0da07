package floormap

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/optimize/floormap"
	"evenbass/report/card"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// states are the cards of where the chair is, of the place of least spread if it may be anywhere, and of the
// place advised where that is another.
func (m *Report) states() []card.State {
	states := m.cards()
	return states[:min(max(2, m.advised()+1), len(states))]
}

// cards are the states of all cards of the survey.
func (m *Report) cards() []card.State {
	var states []card.State
	for i, name := range []string{m.here(), "least spread", "advised"}[:len(m.Survey.Cards)] {
		states = append(states, card.State{Name: name, Card: m.Survey.Cards[i].Card})
	}
	return states
}

// advised returns which of the survey's cards is that of the place to move the chair to: the first that is
// worthwhile, impairs no figure of the band and is not off balance. It is 0 where the chair should stay or there
// is nothing to compare.
func (m *Report) advised() int {
	if m.Number != 0 || !m.Survey.HasSeat {
		return 0
	}
	states := m.cards()
	for i := 1; i < len(states); i++ {
		changes := states[i].Card.Compare(&states[0].Card)
		if card.Worthwhile(&states[0], &states[i]) && !changes.Impaired() && m.offBalance(i) == "" {
			return i
		}
	}
	return 0
}

// advice says whether to move the chair from where it stands now. It is empty where there is
// nothing to compare.
func (m *Report) advice() string {
	states := m.cards()
	if m.Number != 0 || !m.Survey.HasSeat || len(states) < 2 {
		return ""
	}
	moving := func(what string, i int) string {
		return card.Headline("moving "+what+" "+text.Moves(m.Survey.Layout.Seat, m.Survey.Cards[i].Layout.Seat, m.Style), &states[0], &states[i])
	}
	switch to := m.advised(); {
	case to > 0:
		return moving("the chair", to)
	case card.Worthwhile(&states[0], &states[1]):
		return "Leave the chair where it is. " + moving("it", 1) + m.offBalance(1)
	}
	return fmt.Sprintf("Leave the chair where it is: no allowed place on the map beats its %s by as much as can be told and heard.", unit.Spread(m.Survey.Here))
}

// offBalance says which speaker is nearer at the place of a card, where that is no advice; else it is "".
func (m *Report) offBalance(i int) string {
	there := m.Survey.Cards[i].Layout
	if floormap.Balanced(m.Project, m.Survey.Layout, there) {
		return ""
	}
	side, by := "right", floormap.Nearer(there)
	if by < 0 {
		side, by = "left", -by
	}
	return fmt.Sprintf(" There the %s speaker is %s nearer than the other.", side, m.Style.Tape(by))
}

// leastLine says where the spread is least and, where another place is advised, where that is and why.
func (m *Report) leastLine(best int) string {
	c, s := &m.Survey.Chair, m.Style
	at := func(seat r3.Vec, spread model.Level) string { return where(seat, s) + ": " + unit.Spread(spread) }
	least := "The spread is least " + at(c.Place(best), c.Spread[best])
	to := m.advised()
	if to < 2 {
		return least + "."
	}
	advised, states := &m.Survey.Cards[to], m.cards()
	return fmt.Sprintf("The advised place is %s. %s%s.%s", at(advised.Layout.Seat, advised.Card.Spread),
		least, card.Price(&states[0], &states[1]), m.offBalance(1))
}

package subwoofer

import (
	"evenbass/report/text"
	"fmt"
	"strings"
)

// Text returns a search for subwoofers as text for a terminal: what each further one gains, where
// it stops paying, the cards of none and of what pays, and how to set that up. With Full set it
// holds every plan and what the figures rest on.
func Text(m Report) string {
	if err := m.check(); err != nil {
		return text.Sentence(err.Error()) + "\n"
	}
	var b strings.Builder
	n, plans := m.worthwhile(), m.Result.Plans
	b.WriteString(text.RoomLine(m.Project, m.Style) + "\n\n")
	b.WriteString(text.Wrap(strings.TrimSpace(m.headline()+" "+m.stop()), text.Columns, "") + "\n")
	if m.Full || m.Best {
		b.WriteString(text.Wrap(fmt.Sprintf("The speakers and the main seat are %s; the search tried %d places for subwoofers %s.",
			m.mains(), m.Result.Places, m.Project.Subwoofers.Where), text.Columns, "") + "\n")
	}
	text.WriteTable(&b, m.compare())
	if !m.Full {
		m.writeShort(&b)
		return b.String()
	}
	text.WriteTable(&b, m.cards())
	if walls := m.wallsTable(); len(walls.Rows) > 0 {
		text.WriteTable(&b, walls)
		if certainty := m.certainty(); certainty != "" {
			b.WriteString(text.Wrap(certainty, text.Columns, "") + "\n")
		}
	}
	if n > 0 {
		text.WriteList(&b, "Set up "+counted(n), m.instructions(&plans[n]))
		text.WriteList(&b, "Take care", m.setupCautions())
	}
	for i := 1; i < len(plans); i++ {
		if i != n {
			text.WriteTable(&b, m.settings(&plans[i], false))
		}
	}
	if m.Result.Now != nil {
		text.WriteTable(&b, m.settings(m.Result.Now, true))
	}
	text.WriteList(&b, "Basis", m.basis())
	b.WriteString("\n" + text.Wrap(text.Trust(m.Result.Engine, m.Result.Why), text.Columns, "") + "\n")
	text.WriteList(&b, text.BreachesHeading, m.breachLines())
	text.WriteWarnings(&b, m.shownWarnings(), m.Style)
	return b.String()
}

// writeShort writes the cards that decide, how to set up what pays, and the first caution.
func (m *Report) writeShort(b *strings.Builder) {
	text.WriteTable(b, m.shortCards())
	if certainty := m.certainty(); certainty != "" {
		b.WriteString(text.Wrap(certainty, text.Columns, "") + "\n")
	}
	if n := m.worthwhile(); n > 0 {
		text.WriteTable(b, m.setup(&m.Result.Plans[n]))
		b.WriteString(text.Wrap(m.setupCautions()[0], text.Columns, "") + "\n")
	}
	text.WriteMore(b, m.Result.Engine.Kind, m.shownWarnings(), "cautions, other numbers: --full; drawings: -o page.html", m.Style)
}

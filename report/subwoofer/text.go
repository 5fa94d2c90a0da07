package subwoofer

import (
	"evenbass/report/text"
	"fmt"
	"strings"
)

// Text returns a search for subwoofers as text for a terminal: what each further one
// gains, where it stops paying, and how to set up what pays.
func Text(m Report) string {
	if err := m.check(); err != nil {
		return text.Sentence(err.Error()) + "\n"
	}
	var b strings.Builder
	n, plans := m.worthwhile(), m.Result.Plans
	b.WriteString(text.RoomLine(m.Project, m.Style) + "\n\n")
	b.WriteString(text.Wrap(strings.TrimSpace(m.headline()+" "+m.stop()), text.Columns, "") + "\n")
	b.WriteString(text.Wrap(fmt.Sprintf("The speakers and the main seat are %s; the search tried %d places for subwoofers %s.",
		m.mains(), m.Result.Places, m.Project.Subwoofers.Where), text.Columns, "") + "\n")
	text.WriteTable(&b, m.compare())
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

package report

import (
	"fmt"
	"strings"
)

// SubText returns a search for subwoofers as text for a terminal: what each further one
// gains, where it stops paying, and how to set up what pays.
func SubText(m SubReport) string {
	if err := m.check(); err != nil {
		return sentence(err.Error()) + "\n"
	}
	var b strings.Builder
	n, plans := m.worthwhile(), m.Result.Plans
	b.WriteString(roomLine(m.Project, m.Style) + "\n\n")
	b.WriteString(wrap(strings.TrimSpace(m.headline()+" "+m.stop()), columns, "") + "\n")
	b.WriteString(wrap(fmt.Sprintf("The speakers and the main seat are %s; the search tried %d places for subwoofers %s.",
		m.mains(), m.Result.Places, m.Project.Subwoofers.Where), columns, "") + "\n")
	writeTable(&b, m.compare())
	if walls := m.wallsTable(); len(walls.Rows) > 0 {
		writeTable(&b, walls)
		if certainty := m.certainty(); certainty != "" {
			b.WriteString(wrap(certainty, columns, "") + "\n")
		}
	}
	if n > 0 {
		writeList(&b, "Set up "+counted(n), m.instructions(&plans[n]))
		writeList(&b, "Take care", m.setupCautions())
	}
	for i := 1; i < len(plans); i++ {
		if i != n {
			writeTable(&b, m.settings(&plans[i], false))
		}
	}
	if m.Result.Now != nil {
		writeTable(&b, m.settings(m.Result.Now, true))
	}
	writeList(&b, "Basis", m.basis())
	b.WriteString("\n" + wrap(trust(m.Result.Engine, m.Result.Why), columns, "") + "\n")
	writeList(&b, "The present places break these rules", m.breachLines())
	writeWarnings(&b, m.shownWarnings())
	return b.String()
}

package stage

import (
	"strings"

	"evenbass/report/present"
	"evenbass/report/text"
)

// Text returns a plan of stages as text for a terminal, at most 100 columns wide.
func Text(g Report) string {
	var s strings.Builder
	s.WriteString(text.Wrap(g.title()+": what to build first", text.Columns, "  ") + "\n\n")
	s.WriteString(text.Wrap(g.headline(), text.Columns, "") + "\n")
	if len(g.Plan.Stages) > 0 {
		text.WriteTable(&s, g.stageTable())
		for _, t := range g.cardTables() {
			text.WriteTable(&s, t)
		}
	}
	present.WriteText(&s, g.present())
	for _, line := range []string{g.stopLine(), g.ruleLine(), g.regretLine()} {
		if line != "" {
			s.WriteString("\n" + text.Wrap(line, text.Columns, "") + "\n")
		}
	}
	text.WriteTable(&s, g.decayTable())
	text.WriteList(&s, "What to leave out", g.leaveLines())
	text.WriteList(&s, "How far to trust it", g.trust())
	if len(g.Plan.Stages) > 0 {
		text.WriteList(&s, "Cautions", text.CautionLines(text.AbsorberCautions(g.Style)))
	}
	return s.String()
}

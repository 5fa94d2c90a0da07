package report

import "strings"

// StageText returns a plan of stages as text for a terminal, at most 100 columns wide.
func StageText(g Staging) string {
	var s strings.Builder
	s.WriteString(wrap(g.title()+": what to build first", columns, "  ") + "\n\n")
	s.WriteString(wrap(g.headline(), columns, "") + "\n")
	if len(g.Plan.Stages) > 0 {
		writeTable(&s, g.stageTable())
	}
	for _, line := range []string{g.stopLine(), g.ruleLine(), g.regretLine()} {
		if line != "" {
			s.WriteString("\n" + wrap(line, columns, "") + "\n")
		}
	}
	writeTable(&s, g.decayTable())
	writeList(&s, "What to leave out", g.leaveLines())
	writeList(&s, "How far to trust it", g.trust())
	if len(g.Plan.Stages) > 0 {
		writeList(&s, "Cautions", cautionLines(absorberCautions(g.Style)))
	}
	return s.String()
}

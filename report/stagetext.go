package report

import "strings"

// StageText returns a plan of stages as text for a terminal, at most 100 columns wide.
func StageText(g Staging) string {
	var s strings.Builder
	s.WriteString(wrap(g.title()+": what to build first", columns, "  ") + "\n\n")
	s.WriteString(wrap(g.headline(), columns, "") + "\n")
	if len(g.Plan.Stages) > 0 {
		t := g.stageTable()
		s.WriteString("\n" + wrap(t.Caption, columns, "") + "\n" + t.text())
	}
	if why := reasonText(g.Plan); why != "" {
		s.WriteString("\n" + wrap("The plan stops here: "+why+".", columns, "") + "\n")
	}
	for _, line := range []string{g.ruleLine(), g.regretLine()} {
		if line != "" {
			s.WriteString("\n" + wrap(line, columns, "") + "\n")
		}
	}
	d := g.decayTable()
	s.WriteString("\n" + wrap(d.Caption, columns, "") + "\n" + d.text())
	writeList(&s, "What to leave", g.leaveLines())
	writeList(&s, "How far to trust this", g.trust())
	if len(g.Plan.Stages) > 0 {
		writeList(&s, "Cautions", absorberCautionLines())
	}
	return s.String()
}

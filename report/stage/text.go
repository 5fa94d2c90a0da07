package stage

import (
	"fmt"
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

// Lines returns what each stage builds and brings, a line each.
func Lines(g Report) []string {
	var lines []string
	for _, s := range g.Plan.Stages {
		lines = append(lines, fmt.Sprintf("%s: %s (%s). The score improves by %s; the spread is then %s.",
			text.Sentence(s.Kind.String()), g.where(&s.Piece), text.Count(s.Batts, "batt"), scoreText(s.Gain), spread(s.After)))
	}
	return lines
}

// Headline says in one sentence or two what the plan achieves.
func Headline(g Report) string { return g.headline() }

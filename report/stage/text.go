package stage

import (
	"fmt"
	"strings"

	"evenbass/model/response"
	"evenbass/report/card"
	"evenbass/report/present"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// Text returns a plan of stages as text for a terminal, at most 100 columns wide: what it brings,
// the stages, the cards of the first and the last, and why it ends. With Full set it holds
// everything.
func Text(g Report) string {
	var s strings.Builder
	s.WriteString(text.Wrap(g.title()+": what to build first", text.Columns, "  ") + "\n")
	s.WriteString(text.Wrap(g.headline(), text.Columns, "") + "\n")
	for _, line := range g.moveLines() {
		s.WriteString(text.Wrap(line, text.Columns, "") + "\n")
	}
	if !g.Full {
		g.writeShort(&s)
		return s.String()
	}
	if len(g.Plan.Stages) > 0 {
		text.WriteTable(&s, g.stageTable())
		for _, t := range g.cardTables() {
			text.WriteTable(&s, t)
		}
	}
	present.WriteText(&s, g.present())
	for _, line := range []string{g.stopLine(), g.otherLine(), g.restLine(), g.cornerLine(), g.ruleLine(), g.regretLine()} {
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

// Lines returns what each stage builds and what it brings, a line each.
func Lines(g Report) []string { return g.lines() }

func (g *Report) lines() []string {
	var lines []string
	before := g.Plan.Start
	for i := range g.Plan.Stages {
		t := &g.Plan.Stages[i]
		changes := t.After.Card.Compare(&before.Card)
		even := fmt.Sprintf("%s to %s", unit.DecibelsOnly(before.Judgement.Spread()), spread(t.After))
		if was := spread(before); was == spread(t.After) {
			even = fmt.Sprintf("the same (%s)", was)
		} else if changes[response.SpreadFigure].Mark == response.NoDifference {
			even = fmt.Sprintf("about the same (%s, %s before)", spread(t.After), was)
		}
		decay := fmt.Sprintf("%s to %s", unit.Decimal(1000*before.Card.Fall.Mean, 0), card.Milliseconds(t.After.Card.Fall.Mean))
		if changes[response.MeanFallFigure].Mark == response.NoDifference {
			decay = fmt.Sprintf("about the same (%s)", card.Milliseconds(t.After.Card.Fall.Mean))
		}
		lines = append(lines, fmt.Sprintf("%s, %s (%s): spread %s, mean 20 dB decay %s", text.Sentence(t.Kind.String()), g.where(&t.Piece), text.Count(t.Batts, "batt"), even, decay))
		before = t.After
	}
	return lines
}

// Headline says in one sentence or two what the plan achieves.
func Headline(g Report) string { return g.headline() }

// writeShort writes the stages in a line each, the cards of the first and the last, and why the
// plan ends.
func (g *Report) writeShort(s *strings.Builder) {
	if len(g.Plan.Stages) > 0 {
		s.WriteString("\nStages: you can stop after any of them; each assumes the earlier ones are built\n")
		for i, line := range g.lines() {
			s.WriteString(text.Wrap(fmt.Sprintf("%d. %s", i+1, line), text.Columns, "   ") + "\n")
		}
		text.WriteTable(s, g.shortCards())
	}
	s.WriteString("\n")
	for _, line := range []string{g.stopLine(), g.otherLine(), g.restLine(), g.regretLine()} {
		if line != "" {
			s.WriteString(text.Wrap(line, text.Columns, "") + "\n")
		}
	}
	if len(g.Plan.Stages) > 0 {
		var titles []string
		for _, c := range text.AbsorberCautions(g.Style) {
			titles = append(titles, strings.ToLower(c.Title))
		}
		s.WriteString(text.Wrap("Before you build, read the cautions of --full: "+strings.Join(titles, "; ")+".", text.Columns, "") + "\n")
	}
	s.WriteString("Reasons, what to leave out, all figures: --full; drawings: -o page.html\n")
}

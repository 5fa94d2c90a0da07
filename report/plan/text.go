package plan

import (
	"fmt"
	"strings"

	buildpage "evenbass/report/build"
	"evenbass/report/measured"
	"evenbass/report/place"
	stagepage "evenbass/report/stage"
	"evenbass/report/text"
	whatifpage "evenbass/report/whatif"
)

// textLines is how many lines the text has at most.
const textLines = 40

// Text returns a plan as text for a terminal, at most 100 columns wide and 40 lines long: what is
// wrong, what to do in which order, what is left out.
func Text(r Report) string {
	in := r.places()
	summary := place.NewSummary(&in)
	var b strings.Builder
	b.WriteString(text.RoomLine(r.project(), r.Style) + "\n")
	b.WriteString(text.Wrap(r.headline(), text.Columns, "") + "\n")
	n := 0
	step := func(title string, most int, lines ...string) {
		n++
		fmt.Fprintf(&b, "\n%d. %s\n", n, title)
		for i, line := range lines {
			if i == most {
				fmt.Fprintf(&b, "   and %d more: see the page, or evenbass %s\n", len(lines)-most, command[title])
				break
			}
			b.WriteString("   " + text.Wrap(line, text.Columns-3, "     ") + "\n")
		}
	}
	if r.Present != nil {
		step(r.measuredTitle(), 2, measured.Lines(r.measurements())...)
	} else if len(summary.Now) > 0 {
		step(wrongTitle, 2, summary.Now...)
	}
	step(moveTitle, 4, summary.Steps...)
	if r.Plan.Options != nil {
		step(compareTitle, 1, whatifpage.Headline(r.options()))
	}
	if r.Plan.Stages != nil {
		lines := stagepage.Lines(r.stages())
		if len(lines) == 0 {
			lines = []string{stagepage.Headline(r.stages())}
		}
		step(stageTitle, 4, lines...)
	}
	if r.Plan.Pieces != nil {
		p := r.pieces()
		step(buildTitle, 2, append([]string{buildpage.Headline(p)}, strings.Join(buildpage.Buying(p), "; "))...)
	}
	step("Measure before and after: evenbass sweep, measure, compare", 1, r.teaching()...)
	tail := "Predicted, not measured. Wool, film, loads and lifting need care: the page has the cautions.\n"
	if r.Plan.Pieces == nil && r.Plan.Stages == nil {
		tail = "Predicted, not measured. Drawings, figures and caveats: -o page.html\n"
	}
	if lines := r.missingLines(); len(lines) > 0 {
		tail = text.Wrap("Left out. "+strings.Join(lines, " "), text.Columns, "  ") + "\n" + tail
	}
	return within(b.String(), "\n"+tail, textLines)
}

// Titles of the steps, and the command that tells all of each.
const (
	measuredTitle = "What was measured"
	inventedTitle = "What was invented, not measured"
	wrongTitle    = "What is wrong now"
	moveTitle     = "Move, step by step"
	compareTitle  = "Compare changes"
	stageTitle    = "Build in this order; you can stop after any stage"
	buildTitle    = "Buy, cut and hang"
)

var command = map[string]string{
	measuredTitle: "measure", inventedTitle: "measure", wrongTitle: "place --full", moveTitle: "place --full", compareTitle: "whatif", stageTitle: "stage", buildTitle: "build",
}

// measuredTitle is that of what was measured, or invented where nobody measured any of it.
func (r *Report) measuredTitle() string {
	if r.Present.Invented() {
		return inventedTitle
	}
	return measuredTitle
}

// within cuts a text at a number of lines, its end kept.
func within(body, end string, most int) string {
	lines := strings.Split(strings.TrimRight(body, "\n"), "\n")
	if room := most - strings.Count(end, "\n"); len(lines) > room {
		lines = append(lines[:max(1, room-1)], "   ... the rest: -o page.html")
	}
	return strings.Join(lines, "\n") + "\n" + end
}

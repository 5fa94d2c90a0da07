package place

import (
	"fmt"
	"strings"

	"evenbass/report/present"
	"evenbass/report/room"
	"evenbass/report/text"
)

// Text returns the result of a search as text for a terminal, at most 100 columns wide, ending in
// a line break: what was found, where to put the tape, the cards, and the first step. With Full set
// it holds everything that is known. It says so if there are no layouts.
func Text(in Report) string {
	r, p, s := in.Result, in.Project, in.Style
	var b strings.Builder
	b.WriteString(text.RoomLine(p, s) + "\n\n")
	if len(r.Candidates) == 0 {
		b.WriteString("No layout was found.\n")
		text.WriteWarnings(&b, text.UniqueWarnings(p.Warnings, r.Warnings), s)
		return b.String()
	}
	v := newVerdict(&in)
	b.WriteString(text.Wrap(v.Headline, text.Columns, "") + "\n")
	if in.Full {
		b.WriteString(text.Wrap(v.Meaning, text.Columns, "") + "\n")
	}
	b.WriteString(text.Wrap(v.Action, text.Columns, "") + "\n")
	if words := cheaperText(&in); words != "" {
		b.WriteString(text.Wrap(words, text.Columns, "") + "\n")
	}
	if words := stoppedText(r); words != "" && !in.Full {
		b.WriteString(text.Wrap(words, text.Columns, "") + "\n")
	}
	marks := room.MarksTable(&r.Candidates[0], p, s)
	b.WriteString("\n" + marks.Caption + "\n" + marks.Text())
	if in.Full {
		writeAll(&b, &in, &v)
		return b.String()
	}
	cards := cardsTable(&in)
	text.WriteTable(&b, cards)
	if words := precedenceText(&in); words != "" {
		b.WriteString("\n" + text.Wrap(words, text.Columns, "") + "\n")
	}
	if lines := stepLines(&in); len(lines) > 0 {
		b.WriteString("\n" + text.Wrap("First step: "+lines[0], text.Columns, "") + "\n")
	}
	if thumb := thumbText(&in); thumb != "" {
		b.WriteString("\n" + text.Wrap(thumb, text.Columns, "") + "\n")
	}
	if words := widenedText(&in); words != "" {
		b.WriteString("\n" + text.Wrap(words, text.Columns, "") + "\n")
	}
	if in.Present != nil {
		for _, line := range append([]string{in.present().Headline()}, in.present().Next()...) {
			b.WriteString("\n" + text.Wrap(line, text.Columns, "") + "\n")
		}
	}
	text.WriteMore(&b, r.Engine.Kind, in.AllWarnings(), "other layouts and figures: --full; drawings and maps: -o page.html", s)
	return b.String()
}

// writeAll writes all that comes after the marks.
func writeAll(b *strings.Builder, in *Report, v *verdict) {
	r, s := in.Result, in.Style
	text.WriteList(b, "From where things are now", moveLines(in.Project, &r.Candidates[0], r.Now, s))
	writeSteps(b, stepLines(in))
	present.WriteText(b, in.present())
	layouts := layoutsTable(in)
	b.WriteString("\n" + text.Wrap(layouts.Caption, text.Columns, "") + "\n" + layouts.Text())
	if words := precedenceText(in); words != "" {
		b.WriteString("\n" + text.Wrap(words, text.Columns, "") + "\n")
	}
	writeSeats(b, r, s)
	writeStanding(b, in)
	writeFacing(b, r, s)
	if r.Now != nil {
		text.WriteList(b, text.BreachesHeading, text.BreachLines(r.Now.Breaches, s))
	}
	b.WriteString("\n" + text.Wrap(v.Trust, text.Columns, "") + "\n")
	text.WriteWarnings(b, in.AllWarnings(), s)
	fmt.Fprintf(b, "\n%d layouts tried, seed %d, engine %s; %s.\n", r.Evaluations, r.Seed, r.Engine.Kind, r.Stopped)
}

package build

import (
	"evenbass/report/text"
	"fmt"
	"slices"
	"strings"
)

// A short text holds so many items of the shopping list and notes, and lists the pieces if they and the items are few.
const (
	mostItems  = 18
	mostPieces = 15
	mostNotes  = 3
)

// Text returns a building plan as text for a terminal, at most 100 columns wide: what there is to
// build, the shopping list with its sum, notes and cautions. With Full set it also holds the pieces,
// how to cut the material, and all cautions at length.
func Text(b Report) string {
	var s strings.Builder
	s.WriteString(text.Wrap(b.title()+": how to build its treatments", text.Columns, "  ") + "\n\n")
	s.WriteString(text.Wrap(b.headline(), text.Columns, "") + "\n")
	if b.Full {
		b.writeFull(&s)
	} else {
		b.writeShort(&s)
	}
	return s.String()
}

func (b *Report) writeShort(s *strings.Builder) {
	t := b.shoppingTable()
	omitted := max(0, len(t.Rows)-mostItems)
	t.Rows = t.Rows[:len(t.Rows)-omitted]
	if len(t.Rows) > 0 {
		text.WriteTable(s, t)
	}
	if omitted > 0 {
		fmt.Fprintf(s, "and %d more: --full\n", omitted)
	}
	if t := b.piecesTable(); len(t.Rows) > 0 && len(t.Rows) <= mostPieces-len(b.Plan.Items) {
		text.WriteTable(s, t)
	}
	notes := b.notes()
	text.WriteList(s, "Keep in mind", notes[:min(mostNotes, len(notes))])
	if len(b.Plan.Pieces) == 0 {
		return
	}
	text.WriteBriefCautions(s, b.stepCautions())
	rest := "sizes, weights, cutting and fixings of each piece: --full; drawings, step by step: -o page.html"
	if more := len(notes) - mostNotes; more > 0 {
		rest = text.Count(more, "more note") + ", and " + rest
	}
	s.WriteString("\n" + text.Wrap(text.Sentence(rest), text.Columns, "") + "\n")
}

func (b *Report) writeFull(s *strings.Builder) {
	if t := b.shoppingTable(); len(t.Rows) > 0 {
		text.WriteTable(s, t)
	}
	text.WriteList(s, "Totals", b.totals())
	if t := b.piecesTable(); len(t.Rows) > 0 {
		text.WriteTable(s, t)
	}
	if t := b.trimTable(); len(t.Rows) > 0 {
		text.WriteTable(s, t)
	}
	text.WriteList(s, "Cutting", append(b.cuttingLines(), b.patternLines()...))
	text.WriteList(s, "Other wool", b.substitutes())
	text.WriteList(s, "Keep in mind", b.notes())
	if len(b.Plan.Pieces) > 0 {
		text.WriteList(s, "Cautions", text.CautionLines(b.stepCautions()))
		s.WriteString("\n" + text.Wrap(b.trust(), text.Columns, "") + "\n")
	}
}

// trust says how far to trust the figures of a building plan.
func (b *Report) trust() string {
	return "Sizes, counts and weights are computed from the room file; the ranges of weights cover what you left open. " +
		"Measure the wall before you cut, and one batt of each pack: batts come " + b.Style.Join("10 to 20 mm", "3/8 to 3/4 in") +
		" oversize and up to a tenth thinner than their label (common practice, no source)."
}

// patternLines says how to cut each batt that does not stay whole.
func (b *Report) patternLines() []string {
	var lines []string
	for _, use := range b.Plan.Batts {
		for _, p := range b.patterns(use.Nesting.Sheets, use.Shapes) {
			lines = append(lines, p.title("batt")+": "+strings.Join(b.parts(&p), ", "))
		}
	}
	return lines
}

// stepCautions are the cautions of all steps, each once.
func (b *Report) stepCautions() []text.Caution {
	var list []text.Caution
	for _, step := range b.steps() {
		for _, c := range step.Cautions {
			if !slices.Contains(list, c) {
				list = append(list, c)
			}
		}
	}
	return list
}

// fixingText writes what holds a piece.
func fixingText(n int, text string) string { return fmt.Sprintf("%d × %s", n, text) }

// Headline says what there is to build, its weight and its cost.
func Headline(b Report) string { return b.headline() }

// Buying lists what has to be bought: "Film 100 µm: 1 roll".
func Buying(b Report) []string {
	var lines []string
	for _, row := range b.shoppingTable().Rows {
		if row[3] != "nothing" {
			lines = append(lines, strings.ReplaceAll(row[0]+": "+row[3], "\n", " "))
		}
	}
	return lines
}

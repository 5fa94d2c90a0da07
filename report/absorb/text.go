package absorb

import (
	"evenbass/report/text"
	"fmt"
	"slices"
	"strings"
)

// Text returns a comparison of build-ups as text for a terminal, at most
// 100 columns wide: the figures, the absorption by third octaves, the first things that the
// layers do, in plain words. With Full set it also holds ranges, the octaves above 315 Hz, sources, how far to
// trust it, and all cautions at length. It panics if the comparison is empty, too large or does not fit together.
func Text(a Report) string {
	if err := a.check(); err != nil {
		panic(err.Error())
	}
	var b strings.Builder
	if a.Title != "" {
		b.WriteString(text.Wrap(text.Printable(a.Title), text.Columns, "  ") + "\n\n")
	}
	for i := range a.BuildUps {
		b.WriteString(text.Wrap(a.heading(i)+"; on "+text.Printable(a.BuildUps[i].Wall), text.Columns, "   ") + "\n")
	}
	b.WriteString("\n" + text.Wrap(a.headline(), text.Columns, "") + "\n")
	figures := a.figuresTable()
	if !a.Full {
		figures.Rows = figures.Rows[:len(figures.Rows)-1] // the weight of a slab follows from the one above
	}
	text.WriteTable(&b, figures)
	if a.Full {
		a.writeFull(&b)
	} else {
		a.writeShort(&b)
	}
	return b.String()
}

func (a *Report) writeShort(b *strings.Builder) {
	text.WriteTable(b, a.shortBandTable())
	if words := a.BuildUps[0].Words; len(a.BuildUps) == 1 {
		text.WriteList(b, "What the layers do", words[:min(mostWords, len(words))])
	}
	warnings := a.warnings()
	text.WriteList(b, "Keep in mind", warnings[:min(mostWarnings, len(warnings))])
	text.WriteBriefCautions(b, text.CautionOf(a.Style, "Fibres and dust", "Fire", "Damp"))
	b.WriteString("\n" + text.Wrap("Predicted, not measured. What the layers do, ranges, sources and how far to trust it: --full; curves: -o page.html", text.Columns, "") + "\n")
}

// How many remarks a short text holds: what the layers do, and caveats.
const (
	mostWords    = 4
	mostWarnings = 2
)

func (a *Report) writeFull(b *strings.Builder) {
	for _, t := range a.bandTables(textGroup) {
		text.WriteTable(b, t)
	}
	for i := range a.BuildUps {
		heading := "What the layers do"
		if len(a.BuildUps) > 1 {
			heading = fmt.Sprintf("What the layers of %s do", a.letter(i))
		}
		lines := a.BuildUps[i].Words
		if j := a.twin(i); j < i {
			lines = []string{"The same as those of " + a.letter(j) + "."}
		}
		text.WriteList(b, heading, lines)
	}
	text.WriteList(b, "Sources of the material figures", a.sources())
	text.WriteList(b, "How far to trust it", append([]string{a.recipe()}, a.limits()...))
	text.WriteList(b, "Cautions", text.CautionLines(text.AbsorberCautions(a.Style)))
	text.WriteList(b, "Keep in mind", a.warnings())
}

// textGroup is how many build-ups fit side by side on a terminal.
const textGroup = 3

// twin returns the first build-up with the same words, which may be the build-up itself.
func (a *Report) twin(i int) int {
	return slices.IndexFunc(a.BuildUps, func(b BuildUp) bool { return slices.Equal(b.Words, a.BuildUps[i].Words) })
}

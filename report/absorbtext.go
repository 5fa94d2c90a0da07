package report

import (
	"fmt"
	"slices"
	"strings"
)

// AbsorptionText returns a comparison of build-ups as text for a terminal, at most
// 100 columns wide: the figures, the absorption by third octaves, what the layers do
// in plain words, and how far to trust it. It panics if the comparison is empty, too
// large or does not fit together.
func AbsorptionText(a Absorption) string {
	if err := a.check(); err != nil {
		panic(err.Error())
	}
	var b strings.Builder
	if a.Title != "" {
		b.WriteString(wrap(printable(a.Title), columns, "  ") + "\n\n")
	}
	for i := range a.BuildUps {
		b.WriteString(wrap(a.heading(i)+"; on "+printable(a.BuildUps[i].Wall), columns, "   ") + "\n")
	}
	b.WriteString("\n" + wrap(a.headline(), columns, "") + "\n")
	writeTable(&b, a.figuresTable())
	for _, t := range a.bandTables(textGroup) {
		writeTable(&b, t)
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
		writeList(&b, heading, lines)
	}
	writeList(&b, "Sources of the material figures", a.sources())
	writeList(&b, "How far to trust it", append([]string{a.recipe()}, a.limits()...))
	writeList(&b, "Cautions", cautionLines(absorberCautions(a.Style)))
	writeList(&b, "Keep in mind", a.warnings())
	return b.String()
}

// textGroup is how many build-ups fit side by side on a terminal.
const textGroup = 3

// twin returns the first build-up with the same words, which may be the build-up itself.
func (a *Absorption) twin(i int) int {
	return slices.IndexFunc(a.BuildUps, func(b BuildUp) bool { return slices.Equal(b.Words, a.BuildUps[i].Words) })
}

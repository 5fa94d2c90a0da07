package report

import (
	"fmt"
	"strings"
)

// BuildText returns a building plan as text for a terminal, at most 100 columns wide:
// what there is to build, the shopping list with its totals, the pieces, how the
// material is cut, and what to bear in mind.
func BuildText(b Building) string {
	var s strings.Builder
	s.WriteString(wrap(b.title()+": how to build its treatments", columns, "  ") + "\n\n")
	s.WriteString(wrap(b.headline(), columns, "") + "\n")
	if t := b.shoppingTable(); len(t.Rows) > 0 {
		s.WriteString("\n" + t.Caption + "\n" + t.text())
	}
	writeList(&s, "Totals", b.totals())
	if t := b.piecesTable(); len(t.Rows) > 0 {
		s.WriteString("\n" + wrap(t.Caption, columns, "") + "\n" + t.text())
	}
	writeList(&s, "Cutting", append(b.cuttingLines(), b.patternLines()...))
	writeList(&s, "Other wool", b.substitutes())
	writeList(&s, "To bear in mind", b.notes())
	if len(b.Plan.Pieces) > 0 {
		writeList(&s, "Cautions", b.cautionLines())
		s.WriteString("\n" + wrap(buildTrust, columns, "") + "\n")
	}
	return s.String()
}

// buildTrust says how far the figures of a building plan go.
const buildTrust = "Sizes, counts and weights are computed from the room file; weights have the range of what was not given. Measure the wall before cutting, and one bat of each pack: bats come 10 to 20 mm oversize and up to a tenth thinner than their label (common practice, no source)."

// patternLines says how each cut bat is cut.
func (b *Building) patternLines() []string {
	var lines []string
	for _, use := range b.Plan.Bats {
		for _, p := range b.patterns(use.Nesting.Sheets, use.Shapes) {
			lines = append(lines, p.title("bat")+": "+strings.Join(b.parts(&p), ", "))
		}
	}
	return lines
}

// cautionLines puts each caution of the steps into one line.
func (b *Building) cautionLines() []string {
	var lines []string
	seen := map[string]bool{}
	for _, step := range b.steps() {
		for _, c := range step.Cautions {
			if !seen[c.Title] {
				lines = append(lines, c.Title+": "+c.Risk+" "+c.Instead)
				seen[c.Title] = true
			}
		}
	}
	return append(lines, cautionsRule)
}

// fixingText writes what holds a piece.
func fixingText(n int, text string) string { return fmt.Sprintf("%d × %s", n, text) }

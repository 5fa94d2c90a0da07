package report

import (
	"slices"
	"strings"

	"evenbass/model"
)

// writeList writes a heading and one line for each item; nothing for no items.
func writeList(b *strings.Builder, heading string, lines []string) {
	if len(lines) == 0 {
		return
	}
	b.WriteString("\n" + heading + "\n")
	for _, line := range lines {
		b.WriteString("- " + wrap(printable(line), columns-2, "  ") + "\n")
	}
}

func writeWarnings(b *strings.Builder, warnings []model.Warning) {
	var lines []string
	for _, w := range warnings {
		lines = append(lines, string(w))
	}
	writeList(b, "Keep in mind", lines)
}

// writeTable writes a table under its caption.
func writeTable(b *strings.Builder, t table) {
	b.WriteString("\n" + wrap(t.Caption, columns, "") + "\n" + t.text())
}

// uniqueWarnings joins lists of warnings and drops repetitions.
func uniqueWarnings(lists ...[]model.Warning) []model.Warning {
	var all []model.Warning
	seen := map[model.Warning]bool{}
	for _, list := range lists {
		for _, w := range list {
			if !seen[w] {
				seen[w] = true
				all = append(all, w)
			}
		}
	}
	return all
}

// unlisted leaves out the rules that the present places break, where they have a list of
// their own.
func unlisted(warnings []model.Warning) []model.Warning {
	return slices.DeleteFunc(slices.Clone(warnings), func(w model.Warning) bool { return strings.HasPrefix(string(w), "as things stand, ") })
}

// warningSentences writes warnings as sentences.
func warningSentences(warnings []model.Warning) []string {
	var lines []string
	for _, w := range warnings {
		lines = append(lines, sentence(string(w))+".")
	}
	return lines
}

// warningLines writes warnings as whole sentences.
func warningLines(warnings []model.Warning) []string {
	var lines []string
	for _, w := range warnings {
		lines = append(lines, sentence(string(w))+".")
	}
	return lines
}

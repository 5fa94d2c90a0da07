package text

import (
	"strings"

	"evenbass/model"
)

// WriteList writes a heading and one line for each item; nothing for no items.
func WriteList(b *strings.Builder, heading string, lines []string) {
	if len(lines) == 0 {
		return
	}
	b.WriteString("\n" + heading + "\n")
	for _, line := range lines {
		b.WriteString("- " + Wrap(Printable(line), Columns-2, "  ") + "\n")
	}
}

func WriteWarnings(b *strings.Builder, warnings []model.Warning) {
	var lines []string
	for _, w := range warnings {
		lines = append(lines, string(w))
	}
	WriteList(b, "Keep in mind", lines)
}

// WriteTable writes a table under its caption.
func WriteTable(b *strings.Builder, t Table) {
	b.WriteString("\n" + Wrap(t.Caption, Columns, "") + "\n" + t.Text())
}

// UniqueWarnings joins lists of warnings and drops repetitions.
func UniqueWarnings(lists ...[]model.Warning) []model.Warning {
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

// WarningSentences writes warnings as sentences.
func WarningSentences(warnings []model.Warning) []string {
	var lines []string
	for _, w := range warnings {
		lines = append(lines, Sentence(string(w))+".")
	}
	return lines
}

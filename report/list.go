package report

import (
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

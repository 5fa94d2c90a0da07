package text

import (
	"strings"
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

// WriteTable writes a table under its caption.
func WriteTable(b *strings.Builder, t Table) {
	b.WriteString("\n" + Wrap(t.Caption, Columns, "") + "\n" + t.Text())
}

// And joins clauses to a list in prose: "a, b and c".
func And(list []string) string {
	if n := len(list); n > 1 {
		return strings.Join(list[:n-1], ", ") + " and " + list[n-1]
	}
	return strings.Join(list, "")
}

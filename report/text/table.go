package text

import (
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/rivo/uniseg"
)

// Columns is the width that text for a terminal keeps to.
const Columns = 100

// Table is rows and columns of text, for the page and for the terminal alike. A
// cell may hold several lines.
type Table struct {
	Caption string
	Head    []string
	Rows    [][]string
	Align   string // a letter a column: l for words, r for figures; the first is words, others not given are figures
}

// words reports whether a column holds words.
func (t *Table) words(column int) bool {
	if column < len(t.Align) {
		return t.Align[column] == 'l'
	}
	return column == 0
}

// Text renders the table for a terminal, figures to the right, words to the left,
// two spaces between columns. If the line would be longer than [Columns], columns of
// words are folded, the widest first; where that is not enough, a bracket behind a figure
// goes below it.
func (t *Table) Text() string {
	all := append([][]string{t.Head}, t.Rows...)
	rows, widths := t.fold(all)
	if lineWidth(widths) > Columns {
		rows, widths = t.fold(t.stack(all))
	}
	var b strings.Builder
	for _, row := range rows {
		t.Line(&b, row, widths)
	}
	return b.String()
}

// narrowest is how narrow a column of words is folded at most, in columns of a terminal.
const narrowest = 12

// fold narrows columns of words until a line fits, if that is enough, and returns the
// rows with their cells wrapped and the widths of the columns.
func (t *Table) fold(rows [][]string) (folded [][]string, widths []int) {
	widths = make([]int, len(t.Head))
	for _, row := range rows {
		for i, cell := range row {
			widths[i] = max(widths[i], cellWidth(cell))
		}
	}
	for excess := lineWidth(widths) - Columns; excess > 0; excess = lineWidth(widths) - Columns {
		widest := -1
		for i, w := range widths {
			if t.words(i) && w > narrowest && (widest < 0 || w > widths[widest]) {
				widest = i
			}
		}
		if widest < 0 {
			break
		}
		widths[widest] = max(narrowest, widths[widest]-excess)
		rows = mapColumn(rows, widest, func(cell string) string { return Wrap(cell, widths[widest], "") })
	}
	return rows, widths
}

// stack moves brackets behind a figure below it.
func (t *Table) stack(rows [][]string) [][]string {
	for i := range t.Head {
		if !t.words(i) {
			rows = mapColumn(rows, i, func(cell string) string { return strings.ReplaceAll(cell, " (", "\n(") })
		}
	}
	return rows
}

// mapColumn returns rows with other cells in one column; the given rows stay.
func mapColumn(rows [][]string, column int, change func(string) string) [][]string {
	out := make([][]string, len(rows))
	for r, row := range rows {
		out[r] = append([]string(nil), row...)
		if column < len(row) {
			out[r][column] = change(row[column])
		}
	}
	return out
}

// lineWidth is the width of a line of columns.
func lineWidth(widths []int) int {
	total := -2
	for _, w := range widths {
		total += w + 2
	}
	return total
}

// Line writes one row, as many lines as its tallest cell has.
func (t *Table) Line(b *strings.Builder, row []string, widths []int) {
	height := 1
	for _, cell := range row {
		height = max(height, strings.Count(cell, "\n")+1)
	}
	for n := range height {
		var out strings.Builder
		for i, cell := range row {
			part := ""
			if lines := strings.Split(cell, "\n"); n < len(lines) {
				part = lines[n]
			}
			pad := strings.Repeat(" ", max(0, widths[i]-uniseg.StringWidth(part)))
			if t.words(i) {
				out.WriteString(part + pad + "  ")
			} else {
				out.WriteString(pad + part + "  ")
			}
		}
		b.WriteString(strings.TrimRight(out.String(), " ") + "\n")
	}
}

// cellWidth returns how many columns of a terminal a cell's longest line takes.
func cellWidth(cell string) int {
	width := 0
	for _, line := range strings.Split(cell, "\n") {
		width = max(width, uniseg.StringWidth(line))
	}
	return width
}

// Short reports whether a table should stay on one sheet of paper.
func (t Table) Short() bool { return len(t.Rows) <= 10 }

// Words reports whether a column holds words, for the page's template.
func (t Table) Words(column int) bool { return t.words(column) }

// longWord is the length from which a word of a head may be broken on paper, letters. A name may have
// two hundred, words of ours fewer.
const longWord = 15

// HeadClass returns the classes of a column's head, for the page's template: whether the column holds
// words, and whether the head has a word so long that it may be broken.
func (t Table) HeadClass(column int) string {
	var classes []string
	if t.words(column) {
		classes = append(classes, "words")
	}
	if slices.ContainsFunc(strings.Fields(t.Head[column]), func(w string) bool { return utf8.RuneCountInString(w) >= longWord }) {
		classes = append(classes, "long")
	}
	return strings.Join(classes, " ")
}

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

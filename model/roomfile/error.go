package roomfile

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/rivo/uniseg"

	"evenbass/model"
	"evenbass/model/roomfile/phrase"
	"evenbass/model/roomfile/quantity"
)

// maxFaults is how many faults of one file are reported.
const maxFaults = 20

// Error is all that is wrong with a room file.
type Error struct {
	File   string  // as given to Read
	Faults []Fault // in the order of the file; at most 20
	More   int     // how many faults were left out
}

// Fault is one thing that is wrong with a room file, and where.
type Fault struct {
	Line, Column int    // from 1; columns count characters
	Path         string // "speakers.box.depth", "blocks[1].to"; "" for the file as a whole
	What         string // one clause, lower case, no full stop
	Right        string // what would be right; may be empty
	Excerpt      string // the line, without its end; long ones are cut
	Caret        int    // column within Excerpt at which the fault begins, from 1
}

// Error lists the faults, each with its place, the line and a caret below it.
func (e *Error) Error() string {
	var b strings.Builder
	for i, f := range e.Faults {
		if i > 0 {
			b.WriteByte('\n')
		}
		fmt.Fprintf(&b, "%s:%d:%d: %s", e.File, f.Line, f.Column, f.text())
		if strings.TrimSpace(f.Excerpt) != "" {
			margin := fmt.Sprintf("%5d | ", f.Line)
			before := uniseg.StringWidth(string([]rune(f.Excerpt)[:f.Caret-1]))
			fmt.Fprintf(&b, "\n%s%s\n%*s^", margin, f.Excerpt, len(margin)+before, "")
		}
	}
	if e.More > 0 {
		fmt.Fprintf(&b, "\n%s: and %d more", e.File, e.More)
	}
	return b.String()
}

// Brief lists the faults with their places, without the lines of the file, parted by
// semicolons: for a table.
func (e *Error) Brief() string {
	var list []string
	for _, f := range e.Faults {
		list = append(list, fmt.Sprintf("%s:%d:%d: %s", e.File, f.Line, f.Column, f.text()))
	}
	if e.More > 0 {
		list = append(list, fmt.Sprintf("and %d more", e.More))
	}
	return strings.Join(list, "; ")
}

// text is the fault in one line without its place.
func (f Fault) text() string {
	s := f.What
	if f.Path != "" {
		s = f.Path + ": " + s
	}
	if f.Right != "" {
		s += "; " + f.Right
	}
	return s
}

// excerpt returns the piece of a line around a column that fits a terminal, and
// the column within that piece. The piece is safe on a terminal.
func excerpt(line string, column int) (piece string, caret int) {
	const width = 90
	r := []rune(line)
	column = min(max(column, 1), len(r)+1)
	start := 0
	if column > width*2/3 && len(r) > width {
		start = column - width*2/3
	}
	shown := strings.Map(func(c rune) rune {
		if phrase.Hidden(c) {
			return utf8.RuneError
		}
		return c
	}, string(r[start:min(start+width, len(r))]))
	return model.Printable(shown), column - start
}

// collector gathers the faults of one file.
type collector struct {
	file   string
	lines  []string
	faults []Fault
}

// add notes a fault at a place.
func (c *collector) add(at position, path string, m quantity.Mistake) {
	c.faults = append(c.faults, Fault{
		Line: max(at.line, 1), Column: max(at.column, 1), Path: path, What: model.Printable(m.What), Right: model.Printable(m.Right), Caret: 1,
	})
}

// err returns the faults as an *Error, or nil if there are none.
func (c *collector) err() error {
	if len(c.faults) == 0 {
		return nil
	}
	slices.SortStableFunc(c.faults, func(a, b Fault) int {
		if a.Line != b.Line {
			return a.Line - b.Line
		}
		return a.Column - b.Column
	})
	e := &Error{File: c.file, Faults: c.faults}
	if len(e.Faults) > maxFaults {
		e.Faults, e.More = e.Faults[:maxFaults], len(e.Faults)-maxFaults
	}
	for i := range e.Faults {
		if f := &e.Faults[i]; f.Line <= len(c.lines) {
			f.Excerpt, f.Caret = excerpt(c.lines[f.Line-1], f.Column)
		}
	}
	return e
}

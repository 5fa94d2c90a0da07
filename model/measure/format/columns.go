package format

import (
	"slices"
	"strings"
	"unicode"
)

// columns are the numbers of a text file, row by row.
type columns struct {
	name     string
	headings []string // words of the last line before the numbers, in lower case
	rows     [][]float64
	lines    []int // of each row, from 1
}

// readColumns reads a text of numbers in columns. Lines that do not begin with a number are
// headings and remarks. What is needed ends the error of a text without numbers.
func readColumns(name string, lines []string, needed string) (*columns, error) {
	c := &columns{name: name}
	var data []string
	for i, line := range lines {
		line = strings.TrimSpace(strings.Trim(strings.TrimSpace(line), ";,"))
		line = strings.ReplaceAll(line, `"`, "")
		switch {
		case line == "":
		case begins(line):
			if len(data) == mostRows {
				return nil, fault(name, i+1, "more than %d rows", mostRows)
			}
			data, c.lines = append(data, line), append(c.lines, i+1)
		case len(data) == 0:
			if h := headings(line); len(h) > 0 {
				c.headings = h
			}
		case notANumber(line):
			return nil, fault(name, i+1, "%q is no number", short(strings.Fields(line)[0]))
		}
	}
	if len(data) == 0 {
		return nil, fault(name, 0, "holds no numbers; %s", needed)
	}
	return c, c.parse(data)
}

// notANumber reports a line that begins with what programs write for no number.
func notANumber(line string) bool {
	word := strings.ToLower(strings.FieldsFunc(line, func(r rune) bool { return unicode.IsSpace(r) || r == ',' || r == ';' })[0])
	return word == "nan" || word == "inf" || word == "infinity" || word == "null"
}

// headings returns the words of a line of headings, with their units, and without what marks a
// remark; nil of a line that names no column.
func headings(line string) []string {
	line = strings.ToLower(strings.TrimLeft(line, "*#%;!/ "))
	named := func(word string) bool { return strings.Contains(line, word) }
	if !slices.ContainsFunc([]string{"freq", "hz", "level", "spl", "db", "phase", "time", "sec", "ms"}, named) {
		return nil
	}
	split := func(r rune) bool { return r == '\t' || r == ';' || r == ',' || r == '|' }
	if !strings.ContainsFunc(line, split) {
		split = unicode.IsSpace
	}
	var list []string
	for _, word := range strings.FieldsFunc(line, split) {
		word = strings.TrimSpace(word)
		if n := len(list); n > 0 && strings.ContainsAny(word[:min(1, len(word))], "([") {
			list[n-1] += word
			continue
		}
		list = append(list, word)
	}
	return list
}

// separator is how columns are kept apart.
type separator int

const (
	spaces     separator = iota // and tabs
	semicolons                  // or bars
	commas
)

// punctuation finds out how a file separates columns, and whether it writes decimals with a comma.
func (c *columns) punctuation(data []string) (by separator, decimalComma bool, err error) {
	var semicolon, blank, comma, point, spaced, inner bool
	for _, line := range data {
		semicolon = semicolon || strings.ContainsAny(line, ";|")
		comma = comma || strings.Contains(line, ",")
		point = point || strings.Contains(line, ".")
		for _, word := range strings.Fields(line) {
			inner = inner || strings.Contains(strings.Trim(word, ","), ",")
			spaced = spaced || strings.HasSuffix(word, ",") || strings.HasPrefix(word, ",")
		}
		blank = blank || len(strings.Fields(line)) > 1
	}
	switch {
	case semicolon:
		return semicolons, comma && !point, c.bothMarks(data, comma && point)
	case !comma:
		return spaces, false, nil
	case point && inner && blank && !spaced:
		return 0, false, c.ambiguous(data)
	case point || spaced && !inner:
		return commas, false, nil
	case blank && !spaced:
		return spaces, true, nil
	case blank:
		return 0, false, c.ambiguous(data)
	}
	// Commas alone, without a point in the whole file.
	switch fields := strings.Count(data[0], ",") + 1; {
	case fields == 2 && !leadingZero(data):
		return commas, false, nil
	case fields == 2:
		return spaces, true, nil // one column of 0,0125
	}
	return 0, false, c.ambiguous(data)
}

// leadingZero reports that what follows a comma begins with a zero somewhere, as in 0,0125: such
// commas are decimal.
func leadingZero(data []string) bool {
	for _, line := range data {
		_, after, _ := strings.Cut(line, ",")
		if len(after) > 1 && after[0] == '0' {
			return true
		}
	}
	return false
}

// ambiguous is the error for commas that may be either.
func (c *columns) ambiguous(data []string) error {
	at := 0
	for i, line := range data {
		if strings.Contains(line, ",") {
			at = i
			break
		}
	}
	return fault(c.name, c.lines[at], "the commas of %q may be decimal or between columns; separate columns by semicolons or tabs, or write decimal points", short(data[at]))
}

// bothMarks is the error for points and commas in one file whose columns semicolons separate.
func (c *columns) bothMarks(data []string, both bool) error {
	if !both {
		return nil
	}
	for i, line := range data {
		if strings.Contains(line, ",") {
			return fault(c.name, c.lines[i], "numbers with commas and numbers with points stand in one file; write all with points")
		}
	}
	return nil
}

// parse fills the rows.
func (c *columns) parse(data []string) error {
	by, decimalComma, err := c.punctuation(data)
	if err != nil {
		return err
	}
	for i, line := range data {
		var row []float64
		for _, word := range fields(line, by) {
			number := word
			if decimalComma {
				number = strings.Replace(word, ",", ".", 1)
			}
			v, ok := parseNumber(number)
			if !ok && len(row) > 0 && unit(word) {
				continue
			}
			if !ok {
				return fault(c.name, c.lines[i], "%q is no number", short(word))
			}
			row = append(row, v)
		}
		if i > 0 && len(row) != len(c.rows[0]) {
			return fault(c.name, c.lines[i], "%d columns here, %d in line %d", len(row), len(c.rows[0]), c.lines[0])
		}
		c.rows = append(c.rows, row)
	}
	return nil
}

// unit reports a word that may stand behind a number.
func unit(word string) bool {
	switch strings.ToLower(word) {
	case "hz", "db", "°", "deg", "rad":
		return true
	}
	return false
}

// fields splits a line into its columns.
func fields(line string, by separator) []string {
	switch by {
	case commas:
		line = strings.ReplaceAll(line, ",", " ")
	case semicolons:
		line = strings.NewReplacer(";", " ", "|", " ").Replace(line)
	}
	return strings.Fields(line)
}

// heading returns the column whose heading holds one of some words; -1 if none does. Headings
// count only if each column has one.
func (c *columns) heading(words ...string) int {
	if len(c.headings) < len(c.rows[0]) {
		return -1
	}
	for i, h := range c.headings[:len(c.rows[0])] {
		for _, w := range words {
			if strings.Contains(h, w) {
				return i
			}
		}
	}
	return -1
}

// says reports whether a heading holds a word.
func (c *columns) says(word string) bool {
	for _, h := range c.headings {
		if strings.Contains(h, word) {
			return true
		}
	}
	return false
}

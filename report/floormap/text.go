package floormap

import (
	"evenbass/optimize/floormap"
	"evenbass/report/text"
	"evenbass/report/unit"
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/gonum/stat"
)

// Text returns a survey as text for a terminal: where the chair could go, the cards of its present place and of
// those of least spread and advised, and a coarse plan in letters. With Full set it holds a finer plan, a list of
// good places, how far they may be off, and the level over the floor at the most revealing frequencies.
func Text(m Report) string {
	var b strings.Builder
	if err := m.check(); err != nil {
		return text.Sentence(err.Error()) + "\n"
	}
	c := &m.Survey.Chair
	fmt.Fprintf(&b, "%s\n\n", text.RoomLine(m.Project, m.Style))
	if m.Full || m.advice() == "" {
		fmt.Fprintf(&b, "%s\n\n", text.Wrap(fmt.Sprintf("Where the chair could go with the speakers %s, ears %s above the floor (%s)",
			m.stay(), m.Style.Tape(c.Height), m.recipe()), text.Columns, ""))
	}
	b.WriteString(text.Wrap(strings.Join(m.summary(), " "), text.Columns, "") + "\n")
	if chairs := m.chairsTable(); m.Full && len(chairs.Rows) > 0 {
		b.WriteString("\n" + text.Wrap(chairs.Caption, text.Columns, "") + "\n" + chairs.Text())
	}
	if len(m.Survey.Cards) > 0 {
		text.WriteTable(&b, m.cardsTable())
	}
	if !m.Full {
		b.WriteString("\n" + letterPlan(&m, letterRowsShort))
		text.WriteMore(&b, m.Engine.Kind, m.warnings(), "a finer plan and other good places: --full; maps: -o page.html", m.Style)
		return b.String()
	}
	b.WriteString("\n" + letterPlan(&m, letterRows))
	off := m.forgiving()
	b.WriteString("\n" + text.Wrap(off.Caption, text.Columns, "") + "\n" + off.Text())
	text.WriteList(&b, "Level, both speakers together, relative to the mean over the floor at the same frequency", m.toneLines())
	b.WriteString("\n" + text.Wrap(text.Trust(m.Engine, m.Why), text.Columns, "") + "\n")
	text.WriteList(&b, text.BreachesHeading, text.PresentBreaches(m.Project, m.Style))
	text.WriteWarnings(&b, m.warnings(), m.Style)
	return b.String()
}

// The plan in letters: a cell is four letters wide, which is about twice the height of a
// line.
const (
	letterPace    = 0.30 // across the room, m, or more where the room is large
	letterColumns = 21   // most cells across
	letterRows    = 36   // most lines

	letterRowsShort = 10  // most lines of a plan that comes with little else
	letterShape     = 2.0 // width of a cell over its height
)

// letterPlan draws the map of the chair with a figure for each cell, in a number of lines at most.
func letterPlan(m *Report, most float64) string {
	s := m.Survey
	c := &s.Chair
	dx, dy := c.Pitch()
	length, width := dx*float64(len(c.X)), dy*float64(len(c.Y))
	pace := max(letterPace, width/letterColumns, length*letterShape/most)
	rows := max(1, int(math.Round(length*letterShape/pace)))
	across := max(1, int(math.Round(width/pace)))
	cells := letterCells(c, rows, across)
	place := func(name string, v r3.Vec) { cells[part(v.X/length, rows)][part(v.Y/width, across)] = name }
	if best, ok := c.Best(c.Allowed); ok {
		place("[*]", c.Place(best))
	}
	seat := ""
	if to := m.advised(); to > 1 {
		place("[+]", s.Cards[to].Layout.Seat)
		seat = " [+]: the advised place."
	}
	if s.HasSeat {
		place("S ", s.Layout.Seat)
		seat += " S: the chair " + m.here() + "."
	}
	place("L ", s.Layout.Left)
	place("R ", s.Layout.Right)
	var b strings.Builder
	b.WriteString(text.Wrap("Plan, the front wall at the top. Each number is the spread with the chair there, ± dB. [ ]: the rules of the room "+
		"file allow it. [*]: the least of those."+seat+" L, R: the speakers. #: no air.", text.Columns, "") + "\n")
	edge := strings.Repeat(" ", 9) + "+" + strings.Repeat("-", 4*across+1) + "+\n"
	b.WriteString(edge)
	for i, line := range cells {
		label := ""
		if i%3 == 1 {
			label = m.Style.Ruler((float64(i) + 0.5) / float64(rows) * length)
		}
		fmt.Fprintf(&b, "%8s |", label)
		for _, cell := range line {
			fmt.Fprintf(&b, "%4s", cell)
		}
		b.WriteString(" |\n")
	}
	return b.String() + edge
}

// part returns the number of the part, of n equal ones, that a share of 0..1 falls into.
func part(share float64, n int) int { return max(0, min(n-1, int(share*float64(n)))) }

// letterCells writes for each cell of a coarse plan the mean spread of the places in it,
// in brackets that of those that are allowed if any are, and # where there is no air.
func letterCells(m *floormap.Spread, rows, across int) [][]string {
	cells := make([][]string, rows)
	for i := range cells {
		cells[i] = make([]string, across)
		for j := range cells[i] {
			cells[i][j] = letterCell(m, cellSpan(i, rows, len(m.X)), cellSpan(j, across, len(m.Y)))
		}
	}
	return cells
}

// cellSpan returns which of n places fall into part i of parts, at least the one in its
// middle.
func cellSpan(i, parts, n int) [2]int {
	first := int(math.Round(float64(i) / float64(parts) * float64(n)))
	end := int(math.Round(float64(i+1) / float64(parts) * float64(n)))
	if end <= first {
		first = part((float64(i)+0.5)/float64(parts), n)
		end = first + 1
	}
	return [2]int{first, end}
}

func letterCell(m *floormap.Spread, rows, columns [2]int) string {
	var allowed, open []float64
	for i := rows[0]; i < rows[1]; i++ {
		for j := columns[0]; j < columns[1]; j++ {
			n := i*len(m.Y) + j
			if m.Open(n) {
				open = append(open, float64(m.Spread[n]))
			}
			if m.Allowed(n) {
				allowed = append(allowed, float64(m.Spread[n]))
			}
		}
	}
	switch {
	case len(allowed) > 0:
		return "[" + unit.Decimal(stat.Mean(allowed, nil), 0) + "]"
	case len(open) > 0:
		return unit.Decimal(stat.Mean(open, nil), 0) + " "
	}
	return "# "
}

package format

import (
	"math"
	"slices"

	"evenbass/model"
	"evenbass/model/measure"
)

// highestFrequency is the highest frequency of a table that is accepted, Hz.
const highestFrequency = 200_000

// row is a row of a table on its way to be sorted.
type row struct {
	f, level, phase float64
	line            int
}

// table turns columns into a table: frequency, level and perhaps phase.
func (c *columns) table(o Options) (*measure.Table, error) {
	at, err := c.tableColumns()
	if err != nil {
		return nil, err
	}
	scale := 1.0
	if c.says("khz") {
		scale = 1000
	}
	turn, err := c.phaseUnit(at.phase, o)
	if err != nil {
		return nil, err
	}
	rows := make([]row, 0, len(c.rows))
	for i, v := range c.rows {
		r := row{f: v[at.frequency] * scale, level: v[at.level], line: c.lines[i]}
		switch {
		case r.f == 0: // a transform's lowest line
			continue
		case r.f < 0 || r.f > highestFrequency:
			return nil, fault(c.name, r.line, "a frequency of %g Hz", r.f)
		case math.Abs(r.level) > 400:
			return nil, fault(c.name, r.line, "a level of %g dB", r.level)
		}
		if at.phase >= 0 {
			r.phase = math.Remainder(v[at.phase]*turn, 2*math.Pi)
		}
		rows = append(rows, r)
	}
	return c.sorted(rows, at.phase >= 0)
}

// sorted returns the table of rows in any order. A row that stands there twice is taken once.
func (c *columns) sorted(rows []row, phases bool) (*measure.Table, error) {
	slices.SortStableFunc(rows, func(a, b row) int {
		switch {
		case a.f < b.f:
			return -1
		case a.f > b.f:
			return 1
		}
		return 0
	})
	t := &measure.Table{}
	for i, r := range rows {
		if i > 0 && r.f == rows[i-1].f {
			if before := rows[i-1]; r.level != before.level || r.phase != before.phase {
				return nil, fault(c.name, r.line, "%g Hz has another level in line %d", r.f, before.line)
			}
			continue
		}
		t.Frequencies, t.Levels = append(t.Frequencies, r.f), append(t.Levels, model.Level(r.level))
		if phases {
			t.Phases = append(t.Phases, r.phase)
		}
	}
	if len(t.Frequencies) < 2 {
		return nil, fault(c.name, 0, "holds one frequency; a response has at least two")
	}
	return t, nil
}

// places are the columns of a table; phase is -1 if there is none.
type places struct{ frequency, level, phase int }

// tableColumns finds the columns by their headings, else takes them in the usual order: see
// [columns.frequencyColumn].
func (c *columns) tableColumns() (at places, err error) {
	n := len(c.rows[0])
	if n < 2 {
		return at, fault(c.name, c.lines[0], "one column of numbers; a response has frequency and level")
	}
	at.phase = c.heading("phase", "deg", "°", "rad")
	if at.frequency = c.heading("freq", "hz"); at.frequency < 0 {
		at.frequency = c.frequencyColumn()
	}
	at.level = c.heading("spl", "level", "magnitude", "db", "gain")
	if at.level < 0 || at.level == at.frequency {
		at.level = 0
		for at.level == at.frequency || at.level == at.phase {
			at.level++
		}
	}
	if at.level >= n || at.phase == at.frequency || at.phase == at.level {
		return at, fault(c.name, c.lines[0], "cannot tell frequency, level and phase apart; give each column a heading: frequency, level, phase")
	}
	known := len(c.headings) >= n && at.phase >= 0
	switch {
	case known || n == 2:
	case n == 3 && len(c.headings) < n:
		at.phase = 3 - at.frequency - at.level
	case n > 3 && len(c.headings) < n:
		return at, fault(c.name, c.lines[0], "%d columns without headings; give each one a heading: frequency, level, phase", n)
	}
	return at, nil
}

// frequencyColumn returns the column of frequencies in a file without headings: the first one, but
// if only another rises or falls all the way, over an octave or more, that one.
func (c *columns) frequencyColumn() int {
	for at := range c.rows[0] {
		first, last := c.rows[0][at], c.rows[len(c.rows)-1][at]
		if c.monotonic(at) && (at == 0 || max(first, last) >= 2*min(first, last)) {
			return at
		}
	}
	return 0
}

// monotonic reports whether a column only rises or only falls and is never negative.
func (c *columns) monotonic(at int) bool {
	rises, falls := true, true
	for i, v := range c.rows {
		if v[at] < 0 {
			return false
		}
		if i > 0 {
			rises, falls = rises && v[at] > c.rows[i-1][at], falls && v[at] < c.rows[i-1][at]
		}
	}
	return rises || falls
}

// phaseUnit returns what turns the numbers of a column into rad.
func (c *columns) phaseUnit(at int, o Options) (float64, error) {
	const degree = math.Pi / 180
	var most float64
	for _, v := range c.rows {
		if at >= 0 {
			most = max(most, math.Abs(v[at]))
		}
	}
	switch {
	case at < 0 || o.Phase == Radians:
		return 1, nil
	case o.Phase == Degrees || c.says("deg") || c.says("°"):
		return degree, nil
	case c.says("rad"):
		return 1, nil
	case most > 2*math.Pi+1e-6:
		return degree, nil
	}
	return 0, fault(c.name, c.lines[0], "the phase may be in degrees or in radians; say which in its heading")
}

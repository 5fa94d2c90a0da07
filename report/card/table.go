package card

import (
	"fmt"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/score"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// Key explains the marks behind the figures of a [Table]; it follows what they are compared with.
const Key = "✓ better, ✗ worse, ≈ too little to hear or too uncertain to tell"

// Signs are the marks in a table.
var Signs = map[response.Mark]string{response.Better: "✓", response.Worse: "✗", response.NoDifference: "≈"}

// Row is one figure of all states.
type Row struct {
	Name  string
	Cells []string // by state
	Marks []string // by state, of Signs; "" for the first state, and where there is nothing to compare
}

// Names are the names of the figures of a card, in their order.
var Names = map[response.Figure]string{
	response.SpreadFigure:    "spread",
	response.DeviationFigure: "standard deviation",
	response.WithinFigure:    "band within ±6 dB of its mean",
	response.DipFigure:       "deepest dip",
	response.LowOctaveFigure: "lowest octave against the band",
	response.WorstFallFigure: "slowest 20 dB decay",
	response.MeanFallFigure:  "mean 20 dB decay",
}

// Rows returns the figures that are known of any state, in their order. With compared set the
// first state is the one that all others are compared with.
func Rows(states []State, compared bool, s unit.Style) []Row {
	var rows []Row
	for _, f := range response.FigureList {
		row := Row{Name: Names[f]}
		known := false
		for i := range states {
			_, ok := states[i].Card.Value(f)
			known = known || ok
			row.Cells = append(row.Cells, Cell(states[i].Card.Card, f))
			mark := ""
			if compared && i > 0 {
				if c := states[i].Card.Compare(&states[0].Card)[f]; c.Known {
					mark = Signs[c.Mark]
				}
			}
			row.Marks = append(row.Marks, mark)
		}
		if known {
			rows = append(rows, row)
		}
	}
	return append(rows, layoutRows(states, compared, s)...)
}

// Cell writes one figure of a card; a dip and a decay take two lines.
func Cell(c response.Card, f response.Figure) string {
	v, known := c.Value(f)
	switch {
	case !known:
		return unit.Unknown
	case f == response.SpreadFigure:
		return unit.Spread(c.Spread)
	case f == response.WithinFigure:
		return unit.Percent(v)
	case f == response.DipFigure:
		return unit.Decibels(c.Dip.Level) + "\n" + unit.Frequency(c.Dip.Frequency)
	case f == response.LowOctaveFigure:
		return unit.Decibels(c.LowOctave)
	case f == response.WorstFallFigure:
		return slowest(c.Fall, "\nat ")
	case f == response.MeanFallFigure:
		return Milliseconds(v)
	}
	return unit.Difference(model.Level(v))
}

// slowest writes the slowest decay with its band.
func slowest(f response.Fall, at string) string {
	switch d := f.Worst; {
	case d.Band == 0:
		return "< " + Milliseconds(f.Least)
	case d.Fall20 == 0 || d.Slow():
		return "≥ " + Milliseconds(response.SlowFall) + at + unit.Nominal(d.Band)
	default:
		return Milliseconds(d.Fall20) + at + unit.Nominal(d.Band)
	}
}

// Milliseconds writes a time in s.
func Milliseconds(s float64) string { return unit.Decimal(1000*s, 0) + " ms" }

// layoutRows returns the figures that only whole layouts have.
func layoutRows(states []State, compared bool, s unit.Style) []Row {
	var rows []Row
	add := func(name string, known func(*State) bool, cell func(*State) string, mark func(before, after *State) response.Mark) {
		row, any := Row{Name: name}, false
		for i := range states {
			c, m := unit.Unknown, ""
			if known(&states[i]) {
				any, c = true, cell(&states[i])
				if compared && i > 0 && mark != nil && known(&states[0]) {
					m = Signs[mark(&states[0], &states[i])]
				}
			}
			row.Cells, row.Marks = append(row.Cells, c), append(row.Marks, m)
		}
		if any {
			rows = append(rows, row)
		}
	}
	for i := 1; i < len(states[0].Seats); i++ {
		add("spread at "+text.Printable(states[0].Seats[i].Name), func(t *State) bool { return i < len(t.Seats) },
			func(t *State) string { return unit.Spread(t.Seats[i].Spread) },
			func(before, after *State) response.Mark {
				return score.SeatMark(before.criteria(), after.criteria(), i)
			})
	}
	add("seats differ by", func(t *State) bool { return len(t.Seats) > 1 },
		func(t *State) string { return unit.Difference(t.Between) },
		func(before, after *State) response.Mark {
			return markOf(float64(after.Between-before.Between), after.Card.Resolution(&before.Card)[response.DeviationFigure])
		})
	add("marks may be off by", func(t *State) bool { return t.Tolerance.Limit > 0 },
		func(t *State) string { return tolerance(t, s) },
		func(before, after *State) response.Mark { return markOf(before.off()-after.off(), tapeError) })
	add("better than now in", func(t *State) bool { return t.Trials > 0 && compared && t.Name != states[0].Name },
		func(t *State) string { return fmt.Sprintf("%d of %d", t.Better, t.Trials) }, nil)
	add("best of all in", func(t *State) bool { return t.Trials > 0 && len(states) > 2 && t.Name != text.NowName },
		func(t *State) string { return fmt.Sprintf("%d of %d", t.First, t.Trials) }, nil)
	return rows
}

func tolerance(t *State, s unit.Style) string {
	if off := t.off(); off < t.Tolerance.Limit-1e-9 {
		return s.Cell(off)
	}
	return s.Cell(t.Tolerance.Limit) + "\nor more"
}

// Table is a table of states, one a column, with the marks behind the figures. With compared set
// the first state is the one that all others are compared with.
func Table(states []State, compared bool, s unit.Style) text.Table {
	t := text.Table{Head: []string{""}}
	for i := range states {
		t.Head = append(t.Head, states[i].Name)
	}
	t.Caption = Caption("The card of each", states, compared)
	for _, r := range Rows(states, compared, s) {
		cells := []string{r.Name}
		for i := range r.Cells {
			cells = append(cells, r.Marked(i))
		}
		t.Rows = append(t.Rows, cells)
	}
	return t
}

// Caption is the caption of a table of states: what it is of, the recipe, and what the marks say.
func Caption(what string, states []State, compared bool) string {
	words := fmt.Sprintf("%s (%v; the worst of left, right, both)", what, states[0].Card.Goal)
	if compared && len(states) > 1 {
		words += ". Against " + states[0].Name + ": " + Key
	}
	return words
}

// Marked is a cell with its mark.
func (r *Row) Marked(i int) string {
	if r.Marks[i] == "" {
		return r.Cells[i]
	}
	for k, c := range r.Cells[i] {
		if c == '\n' {
			return r.Cells[i][:k] + " " + r.Marks[i] + r.Cells[i][k:] + "  "
		}
	}
	return r.Cells[i] + " " + r.Marks[i]
}

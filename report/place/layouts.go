package place

import (
	"fmt"
	"math"
	"slices"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/score"
	"evenbass/report/card"
	"evenbass/report/svg"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// moveLines says for each mark how to get there from where it is now; none if
// nothing stands now.
func moveLines(p *model.Project, c, now *score.Candidate, s unit.Style) []string {
	if now == nil {
		return nil
	}
	var lines []string
	for _, m := range svg.Marks(c.Layout) {
		lines = append(lines, m.Name+": "+text.Moves(m.Of(now.Layout), m.At, s))
	}
	return append(lines, alongLines(p, c.Layout, s)...)
}

// diagonalsTable lists the distances on the floor that show whether the marks
// have been taped right.
func diagonalsTable(l model.Layout, s unit.Style) text.Table {
	return text.Table{
		Caption: "Diagonals on the floor, to check the marks",
		Head:    []string{"from", "to", "on the floor"},
		Align:   "llr",
		Rows: [][]string{
			{"left woofer", "seat", s.Cell(model.Plan(l.Left, l.Seat))},
			{"right woofer", "seat", s.Cell(model.Plan(l.Right, l.Seat))},
			{"left woofer", "right woofer", s.Cell(model.Plan(l.Left, l.Right))},
		},
	}
}

// cardsTable compares the cards of the layouts, one a column.
func cardsTable(in *Report) text.Table {
	return card.Table(in.states(), in.Result.Now != nil, in.Style)
}

// layoutsTable compares the layouts, one a column: places, card and more figures.
func layoutsTable(in *Report) text.Table {
	r, s := in.Result, in.Style
	cards := cardsTable(in)
	t := text.Table{
		Caption: card.Caption("The layouts compared", in.states(), r.Now != nil),
		Head:    cards.Head,
	}
	all := r.Shown()
	add := func(name string, read func(c *score.Candidate) string) {
		row := []string{name}
		for _, c := range all {
			row = append(row, read(c))
		}
		t.Rows = append(t.Rows, row)
	}
	addPlaces(add, all, s)
	t.Rows = append(t.Rows, cards.Rows...)
	addFigures(add, all, s)
	add("left woofer may be off by", func(c *score.Candidate) string { return within(c.Tolerance.Left, c.Tolerance.Limit, s) })
	add("right woofer may be off by", func(c *score.Candidate) string { return within(c.Tolerance.Right, c.Tolerance.Limit, s) })
	add("seat may be off by", func(c *score.Candidate) string { return within(c.Tolerance.Seat, c.Tolerance.Limit, s) })
	return t
}

// addPlaces adds the rows of places. The two woofers share a row if every layout has them
// equally far from the front wall.
func addPlaces(add func(string, func(*score.Candidate) string), all []*score.Candidate, s unit.Style) {
	level := true
	for _, c := range all {
		level = level && math.Abs(c.Layout.Left.X-c.Layout.Right.X) < 0.005
	}
	if level {
		add("woofers from front wall", func(c *score.Candidate) string { return s.Cell(c.Layout.Left.X) })
	} else {
		add("left woofer from front wall", func(c *score.Candidate) string { return s.Cell(c.Layout.Left.X) })
		add("right woofer from front wall", func(c *score.Candidate) string { return s.Cell(c.Layout.Right.X) })
	}
	add("left woofer from left wall", func(c *score.Candidate) string { return s.Cell(c.Layout.Left.Y) })
	add("woofers apart", func(c *score.Candidate) string { return s.Cell(model.Plan(c.Layout.Left, c.Layout.Right)) })
	add("acoustic axis above floor", func(c *score.Candidate) string { return s.Cell(c.Layout.AxisHeight) })
	add("ears from front wall", func(c *score.Candidate) string { return s.Cell(c.Layout.Seat.X) })
	add("ears from left wall", func(c *score.Candidate) string { return s.Cell(c.Layout.Seat.Y) })
}

// addFigures adds the rows of figures beside the card.
func addFigures(add func(string, func(*score.Candidate) string), all []*score.Candidate, s unit.Style) {
	worst := func(c *score.Candidate) response.Figures { return c.Judgement.Figures[c.Judgement.Worst] }
	add("spread, marks slightly off", func(c *score.Candidate) string { return unit.Spread(c.Steadiness.Mean) })
	if all[0].Steadiness.Lean != score.Upright {
		add(fmt.Sprintf("spread, leaning %s the worst way", s.Tape(score.LeanDistance)), func(c *score.Candidate) string {
			return unit.Spread(c.Steadiness.Leaning) + "\n" + c.Steadiness.Lean.String()
		})
	}
	if len(all[0].Seats) > 0 {
		add("weighted over all seats", func(c *score.Candidate) string { return unit.Spread(c.Score) })
	}
	if slices.ContainsFunc(all, card.WallsMatter) {
		add("spread, hard to soft walls", func(c *score.Candidate) string { return card.WallRange(c, "\n") })
	}
	add("highest point", func(c *score.Candidate) string { return extreme(worst(c).Highest) })
	add("low-end reach of the room", func(c *score.Candidate) string {
		return unit.ReachText(c.Judgement.Figures[response.BothTogether].Reach)
	})
	add("left versus right", func(c *score.Candidate) string { return unit.Difference(c.Judgement.Difference) })
}

// extreme writes a highest or lowest point in two lines: level and frequency.
func extreme(e response.Extreme) string {
	return unit.Decibels(e.Level) + "\n" + unit.Frequency(e.Frequency)
}

// within writes a tolerance; at the limit it is at least that large.
func within(radius, limit float64, s unit.Style) string {
	switch {
	case limit <= 0:
		return unit.Unknown
	case radius >= limit-1e-9:
		return s.Cell(limit) + "\nor more"
	}
	return s.Cell(radius)
}

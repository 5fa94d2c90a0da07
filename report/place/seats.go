package place

import (
	"fmt"
	"math"
	"strings"

	"evenbass/model"
	"evenbass/optimize"
	"evenbass/optimize/score"
	"evenbass/report/svg"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// seatsView is the page's part about several seats.
type seatsView struct {
	Text  string
	Front text.Table
	Chart *svg.Drawing
}

// newSeatsView returns nil if there is one seat only.
func newSeatsView(r *optimize.Result, s unit.Style) *seatsView {
	if len(r.Candidates[0].Seats) == 0 {
		return nil
	}
	v := &seatsView{Text: seatsText(r, s)}
	if len(r.Front) > 0 {
		v.Front = frontTable(r, s)
		v.Chart = newTrade(r)
	}
	return v
}

// seatsText says how the seats are weighted.
func seatsText(r *optimize.Result, s unit.Style) string {
	var parts []string
	for _, f := range r.Candidates[0].Seats {
		parts = append(parts, fmt.Sprintf("%s %s %%", text.Printable(f.Name), unit.Decimal(100*f.Weight, 0)))
	}
	return fmt.Sprintf("Layouts are ranked by the spread at all seats, weighted: %s. The main seat counts with marks slightly off and with its worst lean. "+
		"At any other seat the spread is the mean with the ears in place and %s off to each side. \"Seats differ by\" is the standard "+
		"deviation of their levels from both speakers together, averaged over the band (%v).",
		strings.Join(parts, ", "), s.Tape(score.SeatOffset), r.Goal)
}

// restName names the seats that the trade-off compares with the main one.
func restName(r *optimize.Result) string {
	var names []string
	for _, f := range r.Candidates[0].Seats[1:] {
		if f.Weight > 0 {
			names = append(names, text.Printable(f.Name))
		}
	}
	if len(names) == 1 {
		return names[0]
	}
	return "the other seats"
}

// frontTable lists the trade-off between the main seat and the others.
func frontTable(r *optimize.Result, s unit.Style) text.Table {
	main, rest := text.Printable(r.Candidates[0].Seats[0].Name), restName(r)
	t := text.Table{
		Caption: fmt.Sprintf("%s versus %s: no other layout tried is better at both (%v)", text.Sentence(main), rest, r.Goal),
		Head:    []string{"", main, rest, "woofers from front wall", "woofers apart", "axis height", "ears from front wall"},
	}
	for i, p := range r.Front {
		l := p.Layout
		t.Rows = append(t.Rows, []string{
			text.LetterName(i), unit.Spread(p.Main), unit.Spread(p.Rest), woofersFromFront(l, s),
			s.Cell(model.Plan(l.Left, l.Right)), s.Cell(l.AxisHeight), s.Cell(l.Seat.X),
		})
	}
	return t
}

// woofersFromFront is one distance, or two where they differ.
func woofersFromFront(l model.Layout, s unit.Style) string {
	if math.Abs(l.Left.X-l.Right.X) < 0.005 {
		return s.Cell(l.Left.X)
	}
	return s.Cell(l.Left.X) + "\n" + s.Cell(l.Right.X)
}

// writeSeats writes the front for a terminal; nothing for one seat.
func writeSeats(b *strings.Builder, r *optimize.Result, s unit.Style) {
	if len(r.Candidates[0].Seats) == 0 {
		return
	}
	b.WriteString("\n" + text.Wrap(seatsText(r, s), text.Columns, "") + "\n")
	if len(r.Front) > 0 {
		t := frontTable(r, s)
		b.WriteString("\n" + text.Wrap(t.Caption, text.Columns, "") + "\n" + t.Text())
	}
}

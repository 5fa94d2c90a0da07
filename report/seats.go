package report

import (
	"fmt"
	"math"
	"strings"

	"evenbass/model"
	"evenbass/optimize"
)

// addSeats adds the figures of the seats other than the main one.
func addSeats(add func(string, func(*optimize.Candidate) string), all []*optimize.Candidate) {
	for i, f := range all[0].Seats {
		if i == 0 {
			continue
		}
		add("spread at "+printable(f.Name), func(c *optimize.Candidate) string { return Spread(c.Seats[i].Counted) })
	}
	if len(all[0].Seats) > 0 {
		add("seats differ by", func(c *optimize.Candidate) string { return Difference(c.Between) })
		add("weighted over all seats", func(c *optimize.Candidate) string { return Spread(c.Score) })
	}
}

// seatsView is the page's part about several seats.
type seatsView struct {
	Text  string
	Front table
	Chart *drawing
}

// newSeatsView returns nil if there is one seat only.
func newSeatsView(r *optimize.Result, s Style) *seatsView {
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
func seatsText(r *optimize.Result, s Style) string {
	var parts []string
	for _, f := range r.Candidates[0].Seats {
		parts = append(parts, fmt.Sprintf("%s %s %%", printable(f.Name), decimal(100*f.Weight, 0)))
	}
	return fmt.Sprintf("Layouts are ranked by the spread at all seats, weighted: %s. The main seat counts with marks slightly off. "+
		"At any other seat the spread is the mean with the ears in place and %s off to each side. \"Seats differ by\" is the standard "+
		"deviation of their levels from both speakers together, averaged over the band (%v).",
		strings.Join(parts, ", "), s.Tape(optimize.HeadBox), r.Goal)
}

// restName names the seats that the trade-off compares with the main one.
func restName(r *optimize.Result) string {
	var names []string
	for _, f := range r.Candidates[0].Seats[1:] {
		if f.Weight > 0 {
			names = append(names, printable(f.Name))
		}
	}
	if len(names) == 1 {
		return names[0]
	}
	return "the other seats"
}

// frontTable lists the trade-off between the main seat and the others.
func frontTable(r *optimize.Result, s Style) table {
	main, rest := printable(r.Candidates[0].Seats[0].Name), restName(r)
	t := table{
		Caption: fmt.Sprintf("%s versus %s: no other layout tried is better at both (%v)", sentence(main), rest, r.Goal),
		Head:    []string{"", main, rest, "woofers from front wall", "woofers apart", "axis height", "ears from front wall"},
	}
	for i, p := range r.Front {
		l := p.Layout
		t.Rows = append(t.Rows, []string{
			letterName(i), Spread(p.Main), Spread(p.Rest), woofersFromFront(l, s),
			s.cell(model.Plan(l.Left, l.Right)), s.cell(l.AxisHeight), s.cell(l.Seat.X),
		})
	}
	return t
}

// woofersFromFront is one distance, or two where they differ.
func woofersFromFront(l model.Layout, s Style) string {
	if math.Abs(l.Left.X-l.Right.X) < 0.005 {
		return s.cell(l.Left.X)
	}
	return s.cell(l.Left.X) + "\n" + s.cell(l.Right.X)
}

// writeSeats writes the front for a terminal; nothing for one seat.
func writeSeats(b *strings.Builder, r *optimize.Result, s Style) {
	if len(r.Candidates[0].Seats) == 0 {
		return
	}
	b.WriteString("\n" + wrap(seatsText(r, s), columns, "") + "\n")
	if len(r.Front) > 0 {
		t := frontTable(r, s)
		b.WriteString("\n" + wrap(t.Caption, columns, "") + "\n" + t.text())
	}
}

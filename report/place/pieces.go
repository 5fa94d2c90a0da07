package place

import (
	"evenbass/model"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// piecesTable lists where the absorbing pieces of a room stand and hang; without rows if it
// has none.
func piecesTable(r *model.Room, s unit.Style) text.Table {
	t := text.Table{
		Caption: "The pieces: distances to their nearer and farther edge, and their height above the floor",
		Head:    []string{"piece", "where", "from front wall", "from left wall", "lower edge", "upper edge"},
		Align:   "ll",
	}
	for i := range r.Treatments {
		b := r.Space(&r.Treatments[i])
		t.Rows = append(t.Rows, []string{
			text.Printable(r.Treatments[i].Name), text.Printable(r.Treatments[i].Where()),
			s.Cell(b.Min.X) + "\n" + s.Cell(b.Max.X), s.Cell(b.Min.Y) + "\n" + s.Cell(b.Max.Y), s.Cell(b.Min.Z), s.Cell(b.Max.Z),
		})
	}
	return t
}

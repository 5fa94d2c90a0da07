package room

import (
	"evenbass/model"
	"evenbass/optimize/score"
	"evenbass/report/svg"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// MarksTable lists where to put the tape for one layout.
func MarksTable(c *score.Candidate, p *model.Project, s unit.Style) text.Table {
	t := text.Table{
		Caption: "Floor marks: where to put the tape",
		Head:    []string{"mark", "from front wall", "from left wall", "from right wall", "height"},
	}
	for _, m := range svg.Marks(c.Layout) {
		t.Rows = append(t.Rows, []string{
			m.Name, s.Cell(m.At.X), s.Cell(m.At.Y), s.RestCell(p.Room.Size.Y, m.At.Y), s.Cell(m.At.Z),
		})
	}
	for i := range p.Seats {
		if p.TiedSeat(i) {
			at := p.SeatAt(i, c.Layout)
			t.Rows = append(t.Rows, []string{text.SeatTitle(p, i), s.Cell(at.X), s.Cell(at.Y), s.RestCell(p.Room.Size.Y, at.Y), s.Cell(at.Z)})
		}
	}
	return t
}

package room

import (
	"fmt"
	"strings"

	"evenbass/model"
	"evenbass/optimize/score"
	"evenbass/report/svg"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// writePlaces writes where speakers and seat stand now.
func (u *Report) writePlaces(b *strings.Builder, s unit.Style) {
	b.WriteString("\n")
	now, ok := u.Project.Now()
	if !ok {
		b.WriteString(placeless(u.Project) + "\n")
		return
	}
	t := MarksTable(&score.Candidate{Layout: now}, u.Project, s)
	t.Head[0] = "now"
	b.WriteString(t.Text())
}

// mostContents is how many things in the room a short text lists.
const mostContents = 9

// writeContents writes what stands in the room, a line each.
func (u *Report) writeContents(b *strings.Builder, s unit.Style) {
	lines := u.contents(s)
	if len(lines) == 0 {
		return
	}
	if more := len(lines) - mostContents; more > 1 && !u.Full {
		lines = append(lines[:mostContents], fmt.Sprintf("and %d more", more))
	}
	b.WriteString("\n")
	for _, line := range lines {
		b.WriteString(text.Wrap(line, text.Columns, "  ") + "\n")
	}
}

// contents lists what stands in the room: openings, blocks, what stays clear, treatments.
func (u *Report) contents(s unit.Style) []string {
	r := &u.Project.Room
	var lines []string
	for _, o := range r.Openings {
		lines = append(lines, openingText(r, &o, s))
	}
	for _, line := range Furniture(u.Project, s) {
		lines = append(lines, "furniture: "+line)
	}
	for _, block := range r.Blocks {
		if block.Kind == 0 {
			lines = append(lines, "solid: "+blockText(block, s))
		}
	}
	for _, block := range u.Project.KeepClear {
		if block.Kind == 0 {
			lines = append(lines, "keep clear: "+blockText(block, s))
		}
	}
	for _, t := range r.Treatments {
		if t.Furnished() {
			continue
		}
		words := fmt.Sprintf("treatment: %s, %s, %s deep", text.Printable(t.Name), t.Where(), s.Tape(r.Depth(&t)))
		if t.Form == model.OnWall {
			words += ", " + s.Area(r.FaceArea(&t))
			if r.Trimmed(&t) {
				words += ", trimmed at the slope"
			}
		}
		lines = append(lines, words)
	}
	return lines
}

// openingText says what an opening is, where and how large. For a wall inside the bounding
// rectangle it also says where that wall stands.
func openingText(r *model.Room, o *model.Opening, s unit.Style) string {
	words := text.Printable(text.OpeningName(*o) + " in the " + r.OpeningWall(o))
	at, ok := r.Stretch(o)
	if _, border := r.BorderPatch(o); ok && !border {
		words += fmt.Sprintf(", %s from the front wall, %s from the left wall", tapeSpan(s, at.From.X, at.To.X), tapeSpan(s, at.From.Y, at.To.Y))
	}
	return fmt.Sprintf("%s, %s by %s", words, s.Tape(o.Patch.Width), s.Tape(o.Patch.Height))
}

// tapeSpan writes two distances as one if they are: "380 cm", "215 cm to 295 cm".
func tapeSpan(s unit.Style, from, to float64) string {
	a, b := s.Tape(from), s.Tape(to)
	if a == b {
		return a
	}
	return a + " to " + b
}

// placeless says what has no place yet.
func placeless(p *model.Project) string {
	switch {
	case p.Speakers.Placed:
		return "the seat has no place yet"
	case len(p.Seats) > 0 && p.Seats[0].Placed:
		return "the speakers have no place yet"
	}
	return "speakers and seat have no place yet"
}

func blockText(k model.Block, s unit.Style) string {
	return text.Printable(k.Name) + ", " + sides(k, s)
}

// sides is the size of a block.
func sides(k model.Block, s unit.Style) string {
	return fmt.Sprintf("%s by %s by %s high", s.Tape(k.Max.X-k.Min.X), s.Tape(k.Max.Y-k.Min.Y), s.Tape(k.Max.Z-k.Min.Z))
}

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

package place

import (
	"fmt"
	"strings"

	"evenbass/model"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// alongLines says where in a layout the boxes are that move along, and which seats do.
func alongLines(p *model.Project, l model.Layout, s unit.Style) []string {
	var lines []string
	if _, stands := p.Now(); !stands {
		return nil
	}
	for i := range p.Seats {
		if p.TiedSeat(i) && text.Apart(p.Seats[i].At, p.SeatAt(i, l)) {
			at := p.SeatAt(i, l)
			lines = append(lines, fmt.Sprintf("%s, on the same %s: ears %s from the front wall and %s from the left wall", text.SeatTitle(p, i), text.FurnitureName(p), s.Tape(at.X), s.Tape(at.Y)))
		}
	}
	return append(lines, boxLines(p, l, s)...)
}

// boxLines says the same of boxes that are kept clear.
func boxLines(p *model.Project, l model.Layout, s unit.Style) []string {
	var lines []string
	if _, stands := p.Now(); !stands {
		return nil
	}
	for _, b := range p.KeepClear {
		moved := p.Standing(b, l)
		if !text.Apart(b.Min, moved.Min) {
			continue
		}
		words := fmt.Sprintf("%s: %s", text.Printable(b.Name), text.Moves(b.Min, moved.Min, s))
		if b.With != model.Untied {
			words += fmt.Sprintf(", with the %v", b.With)
		}
		lines = append(lines, words)
	}
	return lines
}

// alongText is a sentence about the boxes after the places; "" if none moves.
func alongText(p *model.Project, l model.Layout, s unit.Style) string {
	lines := boxLines(p, l, s)
	if len(lines) == 0 {
		return ""
	}
	return " Move as well: " + strings.Join(lines, "; ") + "."
}

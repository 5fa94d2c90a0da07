package subwoofer

import (
	"fmt"

	"evenbass/model"
	"evenbass/optimize/subwoofer"
	"evenbass/report/svg"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// notSet stands where a loudspeaker has no such setting.
const notSet = "none"

// setup is the table to set a plan up by, one column for each loudspeaker: where it stands,
// then every setting. The speakers stay, and everything is set relative to them.
func (m *Report) setup(p *subwoofer.Plan) text.Table {
	t := text.Table{Caption: "Where each box stands and how to set it", Head: []string{""}, Align: "l"}
	for _, name := range []string{"from the left wall", "from the front wall", "stands", "polarity", "delay", "gain", "low-pass", "high-pass"} {
		t.Rows = append(t.Rows, []string{name})
	}
	add := func(head string, cells ...string) {
		t.Head = append(t.Head, head)
		t.Align += "r"
		for i, c := range cells {
			t.Rows[i] = append(t.Rows[i], c)
		}
	}
	for i, s := range p.Units {
		add(mark(i), m.Style.Cell(s.Place.Driver.Y), m.Style.Cell(s.Place.Driver.X), m.stands(s.Place), polarity(s.Setting),
			milliseconds(s.Setting.Delay), unit.Decibels(s.Setting.Gain), corner(s.Setting.LowPass), notSet)
	}
	high := notSet
	if hp := m.Project.Subwoofers.HighPass; hp > 0 && len(p.Units) > 0 {
		high = corner(hp)
	}
	pair := svg.Marks(m.Result.Layout)
	for _, k := range pair[:2] {
		add(k.Short, m.Style.Cell(k.At.Y), m.Style.Cell(k.At.X), "as drawn", "normal", milliseconds(0), unit.Decibels(0), notSet, high)
	}
	return t
}

// mark is how drawing and tables call a subwoofer.
func mark(i int) string { return fmt.Sprintf("S%d", i+1) }

func corner(hz float64) string { return unit.Decimal(hz, 0) + " Hz" }

// stands says in a few short lines which wall a box has its back to.
func (m *Report) stands(q model.SubwooferPlace) string {
	wall, ok := m.backWall(q)
	if !ok {
		return "as drawn"
	}
	text := "back to\n" + wall.Wall()
	if q.Corner {
		text += ",\nin the corner"
	}
	return text
}

// setupNotes say what the table leaves open, one line each.
func (m *Report) setupNotes() []string {
	s := m.Project.Subwoofers
	lines := []string{
		"Distances are to the middle of each subwoofer's box and of each speaker's woofer (L, R). Mark them on the floor with tape before you lift.",
	}
	if s.Where != model.Anywhere && m.Project.Room.Plain() {
		lines = append(lines, fmt.Sprintf("Leave %s of air between a box and the wall behind it.", m.Style.Tape(model.SubwooferGap)))
	}
	filter := fmt.Sprintf("Low-pass: %v.", s.Filter)
	if s.HighPass > 0 {
		filter = fmt.Sprintf("Low-pass and high-pass: %v. The high-pass is for both speakers, not for the subwoofers.", s.Filter)
	}
	return append(lines, filter,
		"Feed every subwoofer the sum of left and right. "+m.gainNote(),
		"Add the delay to that subwoofer only; the speakers have none. If an amplifier or processor delays the sound itself, subtract that, or give the others the same.")
}

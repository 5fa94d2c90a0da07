package room

import (
	"fmt"
	"slices"

	"evenbass/model"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// Furniture says of each piece of furniture how large it is and what it does below 300 Hz.
func Furniture(p *model.Project, s unit.Style) []string {
	var lines []string
	for _, f := range p.Furnishings() {
		words := text.FurnitureTitle(f.Block)
		if f.Kind == model.Rug {
			words += fmt.Sprintf(", %s by %s", s.Tape(f.Max.X-f.Min.X), s.Tape(f.Max.Y-f.Min.Y))
		} else {
			words += ", " + sides(f.Block, s)
		}
		lines = append(lines, words+": "+f.Kind.Row().Does)
	}
	return lines
}

// FurnitureSources says of each kind of furniture in the room what it is computed as and where that is from.
func FurnitureSources(p *model.Project) []string {
	var lines []string
	for _, f := range p.Furnishings() {
		row := f.Kind.Row()
		line := row.Word + ": "
		if f.Filling.Kind != 0 {
			line += "computed as " + text.Printable(f.Filling.Text) + "; "
		}
		if line += row.Source; !slices.Contains(lines, line) {
			lines = append(lines, line)
		}
	}
	return lines
}

package room

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/roomfile"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// Walls returns what is assumed for every surface of a room: its walls, walls of an outline with a
// construction of their own, openings.
func Walls(room *model.Room) []Wall {
	var rows, own []Wall
	areas := map[model.Face]float64{}
	for _, f := range model.Faces {
		areas[f] = room.Area(f)
	}
	place := map[int]int{} // in own, of an edge
	for i, e := range room.Edges {
		if e.Set() {
			place[i] = len(own)
			own = append(own, wallRow(room.EdgeName(i), room.EdgeArea(i), e.Surface))
			areas[room.EdgeFace(i)] -= room.EdgeArea(i)
		}
	}
	for _, o := range room.Openings {
		area := o.Patch.Area()
		if i, ok := place[room.OpeningEdge(&o)]; ok {
			own[i].Area -= area
		} else {
			areas[o.Patch.Face] -= area
		}
		own = append(own, wallRow(cmp.Or(o.Name, o.Kind)+" in the "+room.OpeningWall(&o), area, o.Surface))
	}
	for _, f := range model.Faces {
		rows = append(rows, wallRow(f.Wall(), areas[f], room.Walls[f]))
	}
	return append(rows, own...)
}

// shownBands are the octaves whose absorption the report prints, Hz.
var shownBands = [...]float64{31.5, 63, 125, 250}

func wallRow(name string, area float64, s model.Surface) Wall {
	w := Wall{Name: name, Area: area}
	switch {
	case s.Impedance != 0:
		w.Taken = "specific impedance " + roomfile.FormatImpedance(s.Impedance)
		w.Source = "given in the room file"
	case len(s.Absorption) > 0:
		w.Taken = "absorption table"
		w.Source = "given in the room file"
		for _, row := range s.Absorption {
			w.Absorption = append(w.Absorption, Band{
				Frequency: row.Frequency, Low: row.Coefficient, Typical: row.Coefficient, High: row.Coefficient,
			})
		}
	default:
		fillConstruction(&w, s.Construction)
	}
	return w
}

func fillConstruction(w *Wall, name string) {
	if name == "" {
		name = "unknown"
	}
	w.Taken = name
	c, ok := material.Lookup(name)
	if !ok {
		return
	}
	w.Source = c.Source
	if c.Lowest > 0 {
		w.Reach = fmt.Sprintf("printed from %g Hz up; below that extrapolated: %v", c.Lowest, c.Rule)
	}
	if c.Note != "" {
		w.Reach = strings.TrimPrefix(w.Reach+"; "+c.Note, "; ")
	}
	for i, f := range material.Bands() {
		for _, shown := range shownBands {
			if f == shown {
				a := c.Absorption[i]
				w.Absorption = append(w.Absorption, Band{Frequency: f, Low: a.Low, Typical: a.Typical, High: a.High})
			}
		}
	}
}

// Wall is what is assumed for one surface of the room.
type Wall struct {
	Name       string  // "front wall", "door in the back wall"
	Area       float64 // m²
	Taken      string  // the construction's name, or the figures given
	Absorption []Band
	Source     string // where the figures come from
	Reach      string // how far they are extrapolated; "" if they are not
}

// Band is the random-incidence absorption assumed at one frequency, as a range.
type Band struct {
	Frequency          float64 // Hz
	Low, Typical, High float64 // 0..1
}

// WallsTable lists the construction assumed for each surface, one column per band.
func WallsTable(walls []Wall, s unit.Style) text.Table {
	t := text.Table{Caption: "Walls: construction assumed, and absorption coefficient (low to high)"}
	bands := bandHeads(walls)
	t.Head = append(append([]string{"surface", "area"}, bands...), "construction")
	t.Align = "lr" + strings.Repeat("r", len(bands)) + "l"
	for _, w := range walls {
		row := []string{text.Printable(w.Name), s.Area(w.Area)}
		for i := range bands {
			row = append(row, bandCell(w, i, share))
		}
		t.Rows = append(t.Rows, append(row, text.Printable(w.Taken)))
	}
	return t
}

// typicalTable lists each construction once: the typical absorption at each band and the surfaces made of it.
func typicalTable(walls []Wall) text.Table {
	t := text.Table{Caption: "Walls: construction assumed, and typical absorption coefficient"}
	bands := bandHeads(walls)
	t.Head = append(append([]string{"construction"}, bands...), "surfaces")
	t.Align = "l" + strings.Repeat("r", len(bands)) + "l"
	row := map[string]int{} // in t.Rows, of a construction with its figures
	for _, w := range walls {
		line := []string{text.Printable(w.Taken)}
		for i := range bands {
			line = append(line, bandCell(w, i, func(b Band) string { return unit.Decimal(b.Typical, 2) }))
		}
		key, name := strings.Join(line, "\n"), text.Printable(w.Name)
		if at, ok := row[key]; ok {
			t.Rows[at][len(line)] += ", " + name
			continue
		}
		row[key] = len(t.Rows)
		t.Rows = append(t.Rows, append(line, name))
	}
	return t
}

// bandHeads returns the heads of the columns of absorption.
func bandHeads(walls []Wall) []string {
	var heads []string
	if len(walls) > 0 {
		for _, b := range walls[0].Absorption {
			heads = append(heads, strconv.FormatFloat(b.Frequency, 'f', -1, 64)+" Hz")
		}
	}
	return heads
}

// bandCell writes the absorption of a wall at one band, if it is known.
func bandCell(w Wall, band int, write func(Band) string) string {
	if band < len(w.Absorption) {
		return write(w.Absorption[band])
	}
	return unit.Unknown
}

// share writes an absorption with its range, if it has one.
func share(b Band) string {
	if b.Low == b.High {
		return unit.Decimal(b.Typical, 2)
	}
	return fmt.Sprintf("%s\n(%s–%s)", unit.Decimal(b.Typical, 2), unit.Decimal(b.Low, 2), unit.Decimal(b.High, 2))
}

// sourceText says where a wall's figures come from and how far they are extrapolated.
func sourceText(w Wall) string {
	switch {
	case w.Source == "":
		return text.Printable(w.Reach)
	case w.Reach == "":
		return text.Printable(w.Source)
	}
	return text.Printable(w.Source) + "; " + text.Printable(w.Reach)
}

// Sources names each construction once with where its figures come from.
func Sources(walls []Wall) []string {
	var lines []string
	seen := map[string]bool{}
	for _, w := range walls {
		line := text.Printable(w.Taken) + ": " + sourceText(w)
		if sourceText(w) != "" && !seen[line] {
			seen[line] = true
			lines = append(lines, line)
		}
	}
	return lines
}

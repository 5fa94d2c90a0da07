package place

import (
	"cmp"
	"fmt"
	"strings"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/roomfile"
)

// Walls returns what is assumed of every surface of a room: its walls, walls of an outline that
// are of something else, openings.
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

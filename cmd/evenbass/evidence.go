package main

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/mode"
	"evenbass/model/roomfile"
	"evenbass/report"
)

// modesUpTo is the frequency in Hz up to which modes are listed.
const modesUpTo = 300

// modeRows returns the modes of a box as the report shows them, with how loud
// each is at a seat.
func modeRows(box model.Box, seat r3.Vec) []report.Mode {
	var rows []report.Mode
	for _, m := range mode.List(box, modesUpTo) {
		row := report.Mode{
			Index: m.N, Kind: m.Kind().String(), Frequency: m.Frequency,
			Seat: math.Abs(m.Shape(box.Size, seat)),
		}
		if m.Rate > 0 {
			row.Decay = m.DecayTime()
		}
		rows = append(rows, row)
	}
	return rows
}

// wallRows returns what was taken for every surface of a room: the walls, those of an
// outline that are of something else, the openings.
func wallRows(room *model.Room) []report.Wall {
	var rows, own []report.Wall
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

// shownBands are the third octaves whose absorption the report prints.
var shownBands = [...]float64{31.5, 63, 125, 250}

func wallRow(name string, area float64, s model.Surface) report.Wall {
	w := report.Wall{Name: name, Area: area}
	switch {
	case s.Impedance != 0:
		w.Taken = "specific impedance " + roomfile.FormatImpedance(s.Impedance)
		w.Source = "given in the room file"
	case len(s.Absorption) > 0:
		w.Taken = "absorption table"
		w.Source = "given in the room file"
		for _, row := range s.Absorption {
			w.Absorption = append(w.Absorption, report.Band{
				Frequency: row.Frequency, Low: row.Coefficient, Typical: row.Coefficient, High: row.Coefficient,
			})
		}
	default:
		fillConstruction(&w, s.Construction)
	}
	return w
}

func fillConstruction(w *report.Wall, name string) {
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
				w.Absorption = append(w.Absorption, report.Band{Frequency: f, Low: a.Low, Typical: a.Typical, High: a.High})
			}
		}
	}
}

// transition returns the frequency in Hz above which single modes no longer
// rule, from the reverberation time there; above 315 Hz, where the library of
// constructions ends, the time at 315 Hz. It is 0 if nothing absorbs.
func transition(room *model.Room, box *model.Box) float64 {
	f := 200.0
	for range 8 {
		_, eyring := material.ReverberationTime(box, min(f, 315))
		if math.IsInf(eyring, 0) || eyring <= 0 {
			return 0
		}
		f = material.TransitionFrequency(eyring, room.Volume())
	}
	return f
}

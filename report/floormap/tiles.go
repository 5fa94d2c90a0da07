package floormap

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/optimize/floormap"
	"evenbass/report/svg"
	"evenbass/report/unit"
)

// tiles is a lattice of places as it is drawn: cell by cell, in the drawing's units.
type tiles struct {
	X       float64 `json:"x"` // left edge
	Y       float64 `json:"y"` // upper edge
	W       float64 `json:"w"` // of a cell
	H       float64 `json:"h"`
	Rows    int     `json:"rows"`
	Columns int     `json:"columns"`
}

// newTiles returns where the cells of a lattice show on a plan.
func newTiles(f floormap.Floor, v svg.View) tiles {
	dx, dy := f.Pitch()
	corner := v.At(r3.Vec{X: f.X[0] - dx/2, Y: f.Y[0] - dy/2})
	return tiles{
		X: unit.Round(corner.X, 2), Y: unit.Round(corner.Y, 2), W: unit.Round(dy*v.Scale, 4), H: unit.Round(dx*v.Scale, 4),
		Rows: len(f.X), Columns: len(f.Y),
	}
}

// middle returns the centre of the cell of place n.
func (t tiles) middle(n int) svg.Point {
	return svg.XY(t.X+(float64(n%t.Columns)+0.5)*t.W, t.Y+(float64(n/t.Columns)+0.5)*t.H)
}

// fillCells draws the cells for which has holds as one path of rectangles: each begins with
// a run of cells and extends down while the whole run below holds too.
func fillCells(d *svg.Drawing, class string, t tiles, has func(n int) bool) {
	var parts []any
	done := make([]bool, t.Rows*t.Columns)
	wanted := func(row, from, to int) bool {
		for n := row*t.Columns + from; n < row*t.Columns+to; n++ {
			if done[n] || !has(n) {
				return false
			}
		}
		return true
	}
	for row := range t.Rows {
		for column := 0; column < t.Columns; column++ {
			end, below := column, row
			for end < t.Columns && wanted(row, end, end+1) {
				end++
			}
			if end == column {
				continue
			}
			for below < t.Rows && wanted(below, column, end) {
				for n := below*t.Columns + column; n < below*t.Columns+end; n++ {
					done[n] = true
				}
				below++
			}
			left, right := t.X+float64(column)*t.W, t.X+float64(end)*t.W
			top, bottom := t.Y+float64(row)*t.H, t.Y+float64(below)*t.H
			parts = append(parts, "M", svg.XY(left, top), "H", right, "V", bottom, "H", left, "Z")
			column = end - 1
		}
	}
	d.Path(class, parts...)
}

// hatchCells draws lines that rise to the right over the cells for which has holds, as one
// path; a line runs on while its cells do.
func hatchCells(d *svg.Drawing, class string, t tiles, has func(n int) bool) {
	var parts []any
	for k := range t.Rows + t.Columns - 1 {
		row := min(k, t.Rows-1)
		for row >= 0 && k-row < t.Columns {
			end := row
			for end >= 0 && k-end < t.Columns && has(end*t.Columns+k-end) {
				end--
			}
			if end == row {
				row--
				continue
			}
			from := svg.XY(t.X+float64(k-row)*t.W, t.Y+float64(row+1)*t.H)
			to := svg.XY(t.X+float64(k-end)*t.W, t.Y+float64(end+1)*t.H)
			parts = append(parts, "M", from, "L", to)
			row = end
		}
	}
	d.Path(class, parts...)
}

// tintCells draws every band of values as one path, the lowest first, and leaves cells
// without a value blank. Empty bands get a path too, for the page's script to fill.
func tintCells(d *svg.Drawing, t tiles, b *bands, value func(n int) model.Level) {
	for i, name := range b.Names {
		fillCells(d, "cell "+name, t, func(n int) bool {
			v := value(n)
			return !math.IsNaN(float64(v)) && b.of(v) == i
		})
	}
}

// writeValues writes figures into evenly spaced cells, away from the edges and from what is
// kept free. It returns the places with a figure, in the order of the drawing.
func writeValues(d *svg.Drawing, t tiles, text func(n int) string) []int {
	const wide, high = 34.0, 26.0
	down, across := max(1, int(math.Ceil(high/t.H))), max(1, int(math.Ceil(wide/t.W)))
	var written []int
	for row := t.Rows / 2 % down; row < t.Rows; row += down {
		for column := t.Columns / 2 % across; column < t.Columns; column += across {
			n := row*t.Columns + column
			words, at := text(n), t.middle(n)
			space := svg.RectAt(at.X-10, at.Y-6, 20, 12)
			free := words != "" && space.X > t.X && space.X+space.W < t.X+t.W*float64(t.Columns)
			for _, k := range d.Taken {
				free = free && space.Overlap(k) == 0
			}
			if free {
				d.Text("mapvalue", at, words)
				written = append(written, n)
			}
		}
	}
	return written
}

// bands divides the decibels of a map into steps, each with a class of the style sheet.
type bands struct {
	Step  float64  `json:"step"`  // dB
	First int      `json:"first"` // the lowest band begins at First·Step and takes all below
	Names []string `json:"names"` // classes, the lowest band first; the last takes all above
}

// Bands of the maps: of a spread above its reference, and of a level about the mean.
var (
	spreadBands = bands{Step: 1, First: 0, Names: []string{"s0", "s1", "s2", "s3", "s4", "s5", "s6", "s7"}}
	levelBands  = bands{Step: 3, First: -6, Names: []string{"l0", "l1", "l2", "l3", "l4", "l5", "l6", "l7", "l8", "l9"}}
)

// of returns the number of a level's band.
func (b *bands) of(l model.Level) int {
	return max(0, min(len(b.Names)-1, int(math.Floor(float64(l)/b.Step+1e-9))-b.First))
}

// key explains the bands of spreads, or of levels.
func (b *bands) key(zero string) []svg.KeyEntry {
	var list []svg.KeyEntry
	for i, name := range b.Names {
		low := float64(b.First+i) * b.Step
		text := fmt.Sprintf("%s to %s dB", unit.Signed(low), unit.Signed(low+b.Step))
		switch {
		case i == 0 && b.First == 0:
			text = zero
		case i == 0:
			text = fmt.Sprintf("below %s dB", unit.Signed(low+b.Step))
		case i == len(b.Names)-1:
			text = fmt.Sprintf("%s dB and more", unit.Signed(low))
		}
		list = append(list, svg.KeyEntry{Tint: name, Text: text})
	}
	return list
}

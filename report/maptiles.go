package report

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/optimize"
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
func newTiles(f optimize.Floor, v view) tiles {
	dx, dy := f.Pace()
	corner := v.at(r3.Vec{X: f.X[0] - dx/2, Y: f.Y[0] - dy/2})
	return tiles{
		X: round(corner.x, 2), Y: round(corner.y, 2), W: round(dy*v.scale, 4), H: round(dx*v.scale, 4),
		Rows: len(f.X), Columns: len(f.Y),
	}
}

// middle returns the centre of the cell of place n.
func (t tiles) middle(n int) point {
	return xy(t.X+(float64(n%t.Columns)+0.5)*t.W, t.Y+(float64(n/t.Columns)+0.5)*t.H)
}

// fillCells draws the cells that are asked for as one path of rectangles: each begins with a
// run of cells and goes down as far as all below are asked for too.
func fillCells(d *drawing, class string, t tiles, has func(n int) bool) {
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
			parts = append(parts, "M", xy(left, top), "H", right, "V", bottom, "H", left, "Z")
			column = end - 1
		}
	}
	d.path(class, parts...)
}

// hatchCells draws lines that rise to the right over the cells that are asked for, as one
// path; a line runs on as long as the cells do.
func hatchCells(d *drawing, class string, t tiles, has func(n int) bool) {
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
			from := xy(t.X+float64(k-row)*t.W, t.Y+float64(row+1)*t.H)
			to := xy(t.X+float64(k-end)*t.W, t.Y+float64(end+1)*t.H)
			parts = append(parts, "M", from, "L", to)
			row = end
		}
	}
	d.path(class, parts...)
}

// tintCells draws every band of values as one path, the lowest first, and no value as
// nothing. Bands without a cell are there too, for the page's script to fill.
func tintCells(d *drawing, t tiles, b *bands, value func(n int) model.Level) {
	for i, name := range b.Names {
		fillCells(d, "cell "+name, t, func(n int) bool {
			v := value(n)
			return !math.IsNaN(float64(v)) && b.of(v) == i
		})
	}
}

// writeValues writes figures into some cells, evenly strewn, off the edges and where nothing is
// kept free. It
// returns the places that have got one, in the order of the drawing.
func writeValues(d *drawing, t tiles, text func(n int) string) []int {
	const wide, high = 34.0, 26.0
	down, across := max(1, int(math.Ceil(high/t.H))), max(1, int(math.Ceil(wide/t.W)))
	var written []int
	for row := t.Rows / 2 % down; row < t.Rows; row += down {
		for column := t.Columns / 2 % across; column < t.Columns; column += across {
			n := row*t.Columns + column
			words, at := text(n), t.middle(n)
			space := rectAt(at.x-10, at.y-6, 20, 12)
			free := words != "" && space.x > t.X && space.x+space.w < t.X+t.W*float64(t.Columns)
			for _, k := range d.taken {
				free = free && space.overlap(k) == 0
			}
			if free {
				d.text("mapvalue", at, words)
				written = append(written, n)
			}
		}
	}
	return written
}

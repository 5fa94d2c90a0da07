package heatmap

import (
	"math"
	"strings"

	"evenbass/report/svg"
)

// grid is a function over two axes, by row, then by column.
type grid struct {
	x, y []float64 // where the columns and rows are in the drawing
	at   func(row, column int) float64
}

// below is lower than any threshold.
const below = -1e9

// value returns the function, and nothing outside its grid.
func (g *grid) value(row, column int) float64 {
	if row < 0 || column < 0 || row >= len(g.y) || column >= len(g.x) {
		return below
	}
	return g.at(row, column)
}

// place returns where a node of the rimmed grid is.
func (g *grid) place(row, column int) svg.Point {
	return svg.XY(g.x[max(0, min(len(g.x)-1, column))], g.y[max(0, min(len(g.y)-1, row))])
}

// edge is a side of a cell: from a node to the right, or downwards.
type edge struct {
	row, column int
	down        bool
}

// crossing returns where a function that is straight along an edge passes a threshold.
func (g *grid) crossing(e edge, threshold float64) svg.Point {
	row, column := e.row, e.column+1
	if e.down {
		row, column = e.row+1, e.column
	}
	a, b := g.value(e.row, e.column), g.value(row, column)
	p, q := g.place(e.row, e.column), g.place(row, column)
	t := (threshold - a) / (b - a)
	return svg.XY(p.X+t*(q.X-p.X), p.Y+t*(q.Y-p.Y))
}

// contours returns the borders of where a function is at least a threshold, as closed lines.
//
// In each cell the corners are walked around. Where the walk leaves the area, a piece of its
// border begins, and it ends where the walk entered. Neighbours walk their common edge the other
// way, so that each piece goes on in the next cell.
func (g *grid) contours(threshold float64) [][]svg.Point {
	next := map[edge]edge{}
	var starts []edge
	for row := -1; row < len(g.y); row++ {
		for column := -1; column < len(g.x); column++ {
			for _, piece := range g.pieces(row, column, threshold) {
				next[piece[0]] = piece[1]
				starts = append(starts, piece[0])
			}
		}
	}
	var lines [][]svg.Point
	for _, start := range starts {
		var line []svg.Point
		for e, ok := next[start], true; ok; e, ok = next[e] {
			line = append(line, g.crossing(e, threshold))
			delete(next, start)
			if start = e; len(line) > len(starts) {
				break
			}
		}
		if len(line) > 2 {
			lines = append(lines, line)
		}
	}
	return lines
}

// pieces returns the pieces of the border in one cell: from which edge to which.
func (g *grid) pieces(row, column int, threshold float64) [][2]edge {
	corners := [4]float64{g.value(row, column), g.value(row, column+1), g.value(row+1, column+1), g.value(row+1, column)}
	edges := [4]edge{{row, column, false}, {row, column + 1, true}, {row + 1, column, false}, {row, column, true}}
	var in, out []edge
	for i, v := range corners {
		switch after := corners[(i+1)%4]; {
		case v < threshold && after >= threshold:
			in = append(in, edges[i])
		case v >= threshold && after < threshold:
			out = append(out, edges[i])
		}
	}
	switch len(in) {
	case 0:
		return nil
	case 1:
		return [][2]edge{{out[0], in[0]}}
	}
	// A saddle: two corners across are inside, joined or apart by the mean of all four.
	if corners[0] >= threshold {
		out[0], out[1] = out[1], out[0] // the walk began inside: out[1] ends what in[0] began
	}
	if (corners[0]+corners[1]+corners[2]+corners[3])/4 >= threshold {
		return [][2]edge{{out[0], in[1]}, {out[1], in[0]}}
	}
	return [][2]edge{{out[0], in[0]}, {out[1], in[1]}}
}

// thin leaves out points of a line that lie within a distance of it (Douglas & Peucker 1973).
func thin(line []svg.Point, within float64) []svg.Point {
	if len(line) < 3 {
		return line
	}
	a, b := line[0], line[len(line)-1]
	worst, at := 0.0, 0
	for i, p := range line[1 : len(line)-1] {
		if d := distance(p, a, b); d > worst {
			worst, at = d, i+1
		}
	}
	if worst <= within {
		return []svg.Point{a, b}
	}
	left := thin(line[:at+1], within)
	return append(left[:len(left)-1:len(left)-1], thin(line[at:], within)...)
}

// distance returns how far a point is from the line between two others.
func distance(p, a, b svg.Point) float64 {
	x, y := b.X-a.X, b.Y-a.Y
	length := math.Hypot(x, y)
	if length == 0 {
		return math.Hypot(p.X-a.X, p.Y-a.Y)
	}
	return math.Abs(x*(a.Y-p.Y)-y*(a.X-p.X)) / length
}

// outline writes lines as one path, closed or open.
func outline(lines [][]svg.Point, closed bool) string {
	var b strings.Builder
	for _, line := range lines {
		for i, p := range line {
			b.WriteByte("ML"[min(i, 1)])
			b.WriteString(svg.Px(p.X).String())
			b.WriteByte(' ')
			b.WriteString(svg.Px(p.Y).String())
		}
		if closed {
			b.WriteByte('Z')
		}
	}
	return b.String()
}

package interview

import (
	"math"
	"strings"
)

// drawingColumns is how wide the room is drawn, in characters.
const drawingColumns = 36

// drawing shows the room from above, the front wall at the top: L and R are the speakers, S is the
// seat, and furniture is filled with the first letter of its kind.
func (f *form) drawing() string {
	long, wide := metres(f.length), metres(f.width)
	rows := int(math.Round(drawingColumns / 2 * long / wide)) // a character is twice as high as wide
	rows = min(max(rows, 4), 40)
	inside := func(row, column int) bool {
		if row < 0 || column < 0 || row >= rows || column >= drawingColumns {
			return false
		}
		return f.holds((float64(row)+0.5)/float64(rows)*long, (float64(column)+0.5)/drawingColumns*wide)
	}
	cells := make([][]byte, rows)
	for r := range cells {
		cells[r] = []byte(strings.Repeat(" ", drawingColumns))
		for c := range cells[r] {
			if inside(r, c) && !(inside(r-1, c) && inside(r+1, c) && inside(r, c-1) && inside(r, c+1)) {
				cells[r][c] = '#'
			}
		}
	}
	mark := func(letter byte, x, y float64) {
		r, c := int(x/long*float64(rows)), int(y/wide*drawingColumns)
		cells[min(max(r, 0), rows-1)][min(max(c, 0), drawingColumns-1)] = letter
	}
	for _, p := range f.furniture {
		x, y := p.far()
		for r := range rows {
			for c := range drawingColumns {
				if at, along := (float64(r)+0.5)/float64(rows)*long, (float64(c)+0.5)/drawingColumns*wide; at > metres(p.x) && at < x && along > metres(p.y) && along < y && cells[r][c] == ' ' {
					cells[r][c] = p.kind[0]
				}
			}
		}
	}
	if f.speakersAt != "" {
		half := metres(f.apart) / 2
		mark('L', metres(f.speakersAt), wide/2-half)
		mark('R', metres(f.speakersAt), wide/2+half)
	}
	if f.seatAt != "" {
		mark('S', metres(f.seatAt), wide/2)
	}
	var b strings.Builder
	b.WriteString("\n" + strings.Repeat(" ", drawingColumns/2-3) + "front wall\n")
	for _, line := range cells {
		b.WriteString("  " + strings.TrimRight(string(line), " ") + "\n")
	}
	if f.rises != "" {
		b.WriteString("  the ceiling rises " + f.rises + ", from " + f.low + " to " + f.height + "\n")
	}
	return b.String() + "\n"
}

// holds reports whether a point of the plan, in m from the front and the left wall, is in the room.
func (f *form) holds(x, y float64) bool {
	if len(f.outline) == 0 {
		return true
	}
	in := false
	for i, c := range f.outline {
		d := f.outline[(i+1)%len(f.outline)]
		ax, ay, bx, by := metres(c[0]), metres(c[1]), metres(d[0]), metres(d[1])
		if (ay > y) != (by > y) && x < ax+(y-ay)/(by-ay)*(bx-ax) {
			in = !in
		}
	}
	return in
}

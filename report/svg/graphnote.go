package svg

import "math"

// noteLine is the height of a line of a note, in the drawing's unit.
const noteLine = 13.0

// notes writes the notes beside the points that they belong to, where they cover least, each
// with a thin line to its point; on a small graph the letters alone.
func (g *Graph) notes(d *Drawing, f frame) {
	for _, n := range g.Notes {
		at := f.At(n.X, n.Y)
		d.Circle("notepoint", at, 3)
		if g.Form != Wide {
			d.Label("dipnote lead", at, n.Letter, []Point{XY(0, 14), XY(0, -14), XY(12, 8), XY(-12, 8)})
			continue
		}
		r := d.freeSpot(at, f, n.Lines)
		d.Keep(r)
		d.Line("leader", at, nearest(r, at))
		for i, line := range n.Lines {
			class := "dipnote"
			if i == 0 {
				class = "dipnote lead"
			}
			d.Text(class, XY(r.X+r.W/2, r.Y+noteLine*(float64(i)+0.5)), line)
		}
	}
}

// freeSpot returns where in the frame lines of text about a point cover least of what is kept
// free, and of such places the nearest.
func (d *Drawing) freeSpot(at Point, f frame, lines []string) Rectangle {
	w, h := 0.0, noteLine*float64(len(lines))
	for _, line := range lines {
		w = max(w, TextWidth(line)+4)
	}
	best, least := Rectangle{}, math.Inf(1)
	for y := f.top + 2; y <= f.bottom-h-2; y += 5 {
		for x := max(f.left+2, at.X-1.2*w); x <= min(f.right-w-2, at.X+0.2*w); x += 6 {
			r := RectAt(x, y, w, h)
			covered := 0.0
			for _, k := range d.Taken {
				covered += r.Overlap(k)
			}
			to := nearest(r, at)
			cost := 4*covered + math.Hypot(to.X-at.X, to.Y-at.Y)*1.5 + math.Abs(r.Centre().X-at.X)*0.3
			if cost < least {
				best, least = r, cost
			}
		}
	}
	return best
}

// nearest returns the point of a rectangle that is nearest to a point.
func nearest(r Rectangle, p Point) Point {
	return XY(min(max(p.X, r.X), r.X+r.W), min(max(p.Y, r.Y), r.Y+r.H))
}

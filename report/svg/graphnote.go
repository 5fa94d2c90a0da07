package svg

import (
	"math"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/report/unit"
)

// noteLine is the height of a line of a note, in the drawing's unit.
const noteLine = 13.0

// notes writes the notes beside the points that they belong to, where they cover least, each
// with a thin line to its point; on a small graph the letters alone.
func (g *Graph) notes(d *Drawing, f frame) {
	var placed []Rectangle
	for _, n := range g.Notes {
		at := f.At(n.X, n.Y)
		d.Circle("notepoint", at, 3)
		if g.Form != Wide {
			d.Label("dipnote lead", at, n.Letter, []Point{XY(0, 14), XY(0, -14), XY(12, 8), XY(-12, 8)})
			continue
		}
		r := d.freePlace(at, f, n.Lines, placed)
		placed = append(placed, r)
		d.Keep(r)
		to := nearest(r, at)
		d.Line("leader", at, to)
		d.keepAlong(at, to, 1)
		for i, line := range n.Lines {
			class := "dipnote"
			if i == 0 {
				class = "dipnote lead"
			}
			d.Text(class, XY(r.X+r.W/2, r.Y+noteLine*(float64(i)+0.5)), line)
		}
	}
}

// freePlace returns where in the frame lines of text about a point cover least of what is kept
// free, and of such places the nearest. The line to the point keeps clear of notes placed before.
func (d *Drawing) freePlace(at Point, f frame, lines []string, placed []Rectangle) Rectangle {
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
			for _, k := range placed {
				covered += crossing(at, to, k)
			}
			cost := 4*covered + math.Hypot(to.X-at.X, to.Y-at.Y)*1.5 + math.Abs(r.Centre().X-at.X)*0.3
			if cost < least {
				best, least = r, cost
			}
		}
	}
	return best
}

// crossing returns about how much of the way between two points is within a rectangle.
func crossing(a, b Point, r Rectangle) float64 {
	const steps = 12
	length, inside := math.Hypot(b.X-a.X, b.Y-a.Y), 0.0
	for i := range steps {
		share := float64(i+1) / steps
		x, y := a.X+(b.X-a.X)*share, a.Y+(b.Y-a.Y)*share
		if x > r.X && x < r.X+r.W && y > r.Y && y < r.Y+r.H {
			inside += 10 * (1 + length/steps)
		}
	}
	return inside
}

// nearest returns the point of a rectangle that is nearest to a point.
func nearest(r Rectangle, p Point) Point {
	return XY(min(max(p.X, r.X), r.X+r.W), min(max(p.Y, r.Y), r.Y+r.H))
}

// NewTrace returns the curve of one channel, relative to its own mean in the goal's band, with
// its spread. The grid is in Hz and as long as the curves.
func NewTrace(class, name string, grid model.Grid, j *response.Judgement, c response.Channel) Trace {
	f := &j.Figures[c]
	t := Trace{
		Class: class, Name: name, Spread: unit.Spread(f.Spread), X: grid, Y: make([]float64, len(grid)),
		Extent: [2]float64{float64(f.Lowest.Level), float64(f.Highest.Level)},
	}
	for i, l := range j.Curves[c] {
		t.Y[i] = float64(l - f.Mean)
	}
	return t
}

// Difference returns how much one curve is above another, both over one grid.
func Difference(class string, result, before *Trace) Trace {
	t := Trace{Class: class, X: result.X, Y: make([]float64, len(result.Y))}
	for i := range t.Y {
		t.Y[i] = result.Y[i] - before.Y[i]
	}
	return t
}

package absorb

import (
	"fmt"
	"math"
	"strings"

	"evenbass/model"
	"evenbass/model/material/absorber"
	"evenbass/report/svg"
	"evenbass/report/text"
)

// Sizes in a section drawing, in its own units.
const (
	sectionWidth  = 350.0 // no wider than a phone
	sectionHeight = 196.0
	sectionTop    = 44.0  // upper edge of the layers
	sectionTall   = 96.0  // height of the layers, which stands for any height
	sectionRoom   = 58.0  // the room in front
	sectionWall   = 26.0  // the wall behind
	sectionDepth  = 240.0 // the deepest build-up
	sheetWidth    = 3.0   // of films and other thin sheets, wider than they are
)

// newSection draws a cut through a build-up: room on the left, wall on the right,
// drawDepths to scale, the same scale for all build-ups of a comparison.
func newSection(a *Report, i int) *svg.Drawing {
	b := &a.BuildUps[i]
	d := &svg.Drawing{
		ID: "section-" + strings.ToLower(a.letter(i)), Width: sectionWidth, Height: sectionHeight, Style: a.Style,
		Title: fmt.Sprintf("%s in section, %s deep", a.letter(i), a.Style.Thickness(b.Depth)),
		Desc:  "From the room on the left to the wall on the right: " + text.Printable(b.Text) + ". On " + text.Printable(b.Wall) + ".",
	}
	deepest := 0.0
	for _, other := range a.BuildUps {
		deepest = max(deepest, other.Depth)
	}
	scale := sectionDepth / max(deepest, 0.01)
	wall := sectionWidth - sectionWall - 12
	x := wall - b.Depth*scale
	d.Text("walltext", svg.XY(x-sectionRoom/2, sectionTop+sectionTall/2), "room")
	var middles []float64
	for n, l := range b.Layers {
		w := l.Thickness * scale
		drawLayer(d, l, svg.RectAt(x, sectionTop, w, sectionTall))
		middles = append(middles, x+w/2)
		d.Key = append(d.Key, svg.KeyEntry{Letter: fmt.Sprint(n + 1), Text: text.Printable(l.Text)})
		x += w
	}
	drawWall(d, svg.RectAt(wall, sectionTop-10, sectionWall, sectionTall+20))
	drawNumbers(d, middles)
	drawDepths(d, b, scale, wall)
	return d
}

// drawLayer draws one layer where it stands.
func drawLayer(d *svg.Drawing, l model.Layer, r svg.Rectangle) {
	switch absorber.FormOf(l) {
	case absorber.Wool:
		d.Rect("wool", r)
		drawFibres(d, r)
	case absorber.Air:
		d.Rect("air", r)
	case absorber.Film:
		d.Rect("film", thin(r))
	case absorber.Board:
		d.Rect("panel", thin(r))
	case absorber.Pierced:
		for y := r.Y; y < r.Y+r.H-6; y += 12 {
			d.Rect("panel", thin(svg.RectAt(r.X, y, r.W, 8)))
		}
	}
}

// thin widens a sheet that would be too thin to see, about its middle.
func thin(r svg.Rectangle) svg.Rectangle {
	if r.W < sheetWidth {
		r.X, r.W = r.X+(r.W-sheetWidth)/2, sheetWidth
	}
	return r
}

// drawFibres fills wool with level waves.
func drawFibres(d *svg.Drawing, r svg.Rectangle) {
	const step, wave = 12.0, 9.0
	for y := r.Y + step/2; y < r.Y+r.H; y += step {
		n := max(1, math.Floor(r.W/wave))
		w := r.W / n
		parts := []any{"M", svg.XY(r.X, y)}
		for k := range int(n) {
			bow := 2.6
			if k%2 == 1 {
				bow = -bow
			}
			from := r.X + float64(k)*w
			parts = append(parts, " Q", svg.XY(from+w/2, y+bow*2), "", svg.XY(from+w, y))
		}
		d.Path("fibre", parts...)
	}
}

// drawWall draws the wall behind as a cut solid.
func drawWall(d *svg.Drawing, r svg.Rectangle) {
	d.Rect("solid", r)
	for down := 9.0; down < r.H+r.W; down += 9 { // lines up to the right, cut off at the edges
		left, right := max(0, down-r.H), min(r.W, down)
		d.Line("cut", svg.XY(r.X+left, r.Y+down-left), svg.XY(r.X+right, r.Y+down-right))
	}
	d.Text("walltext", svg.XY(r.X+r.W/2, r.Y-9), "wall")
}

// drawNumbers writes the number of each layer above it, with a line to its middle, and
// keeps them apart.
func drawNumbers(d *svg.Drawing, middles []float64) {
	const apart, y = 14.0, 16.0
	at := append([]float64(nil), middles...)
	for i := len(at) - 2; i >= 0; i-- { // make room to the left first
		at[i] = min(at[i], at[i+1]-apart)
	}
	if len(at) > 0 {
		at[0] = max(at[0], 8)
	}
	for i := 1; i < len(at); i++ {
		at[i] = max(at[i], at[i-1]+apart)
	}
	for i, x := range at {
		d.Line("leader", svg.XY(x, y+7), svg.XY(middles[i], sectionTop))
		d.Text("letter", svg.XY(x, y), fmt.Sprint(i+1))
	}
}

// drawDepths writes the depth of the whole under it, and above that, unless one layer is
// all of it, that of every layer that is wide enough for its words.
func drawDepths(d *svg.Drawing, b *BuildUp, scale, wall float64) {
	y := sectionTop + sectionTall + 18
	x := wall - b.Depth*scale
	if b.Depth > 0 {
		drawDimension(d, x, wall, y+24, d.Style.Thickness(b.Depth))
	}
	for _, l := range b.Layers {
		w := l.Thickness * scale
		if words := d.Style.Thickness(l.Thickness); w > svg.TextWidth(words)+4 && l.Thickness < 0.98*b.Depth {
			drawDimension(d, x, x+w, y, words)
		}
		x += w
	}
}

// drawDimension draws a horizontal dimension with words above its middle.
func drawDimension(d *svg.Drawing, a, b, y float64, words string) {
	d.Line("dim", svg.XY(a, y), svg.XY(b, y))
	for _, x := range []float64{a, b} {
		d.Line("dim", svg.XY(x-3, y+3), svg.XY(x+3, y-3))
	}
	d.Text("dimtext", svg.XY((a+b)/2, y-7), words)
}

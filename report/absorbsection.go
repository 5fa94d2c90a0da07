package report

import (
	"fmt"
	"math"
	"strings"

	"evenbass/model"
)

// Sizes in a section drawing, in its own units.
const (
	sectionWidth  = 420.0
	sectionHeight = 196.0
	sectionTop    = 44.0  // upper edge of the layers
	sectionTall   = 96.0  // height of the layers, which stands for any height
	sectionRoom   = 58.0  // the room in front
	sectionWall   = 26.0  // the wall behind
	sectionDepth  = 310.0 // the deepest build-up
	sheetWidth    = 3.0   // of films and other thin sheets, wider than they are
)

// newSection draws a cut through a build-up: room on the left, wall on the right,
// drawDepths to scale, the same scale for all build-ups of a comparison.
func newSection(a *Absorption, i int) *drawing {
	b := &a.BuildUps[i]
	d := &drawing{
		ID: "section-" + strings.ToLower(a.letter(i)), Width: sectionWidth, Height: sectionHeight, style: a.Style,
		Title: fmt.Sprintf("%s in section, %s deep", a.letter(i), a.Style.thickness(b.Depth)),
		Desc:  "From the room on the left to the wall on the right: " + printable(b.Text) + ". On " + printable(b.Wall) + ".",
	}
	deepest := 0.0
	for _, other := range a.BuildUps {
		deepest = max(deepest, other.Depth)
	}
	scale := sectionDepth / max(deepest, 0.01)
	wall := sectionWidth - sectionWall - 12
	x := wall - b.Depth*scale
	d.text("walltext", xy(x-sectionRoom/2, sectionTop+sectionTall/2), "room")
	var middles []float64
	for n, l := range b.Layers {
		w := l.Thickness * scale
		drawLayer(d, l, rectAt(x, sectionTop, w, sectionTall))
		middles = append(middles, x+w/2)
		d.Key = append(d.Key, keyEntry{Letter: fmt.Sprint(n + 1), Text: printable(l.Text)})
		x += w
	}
	drawWall(d, rectAt(wall, sectionTop-10, sectionWall, sectionTall+20))
	drawNumbers(d, middles)
	drawDepths(d, b, scale, wall)
	return d
}

// drawLayer draws one layer where it stands.
func drawLayer(d *drawing, l model.Layer, r rectangle) {
	switch l.Kind {
	case model.PorousLayer:
		d.rect("wool", r)
		drawFibres(d, r)
	case model.GapLayer:
		d.rect("air", r)
	case model.FilmLayer:
		d.rect("film", thin(r))
	case model.PanelLayer:
		d.rect("panel", thin(r))
	case model.PerforatedLayer, model.SlottedLayer:
		for y := r.y; y < r.y+r.h-6; y += 12 {
			d.rect("panel", thin(rectAt(r.x, y, r.w, 8)))
		}
	}
}

// thin widens a sheet that would be too thin to see, about its middle.
func thin(r rectangle) rectangle {
	if r.w < sheetWidth {
		r.x, r.w = r.x+(r.w-sheetWidth)/2, sheetWidth
	}
	return r
}

// drawFibres fills wool with level waves.
func drawFibres(d *drawing, r rectangle) {
	const step, wave = 12.0, 9.0
	for y := r.y + step/2; y < r.y+r.h; y += step {
		n := max(1, math.Floor(r.w/wave))
		w := r.w / n
		parts := []any{"M", xy(r.x, y)}
		for k := range int(n) {
			bow := 2.6
			if k%2 == 1 {
				bow = -bow
			}
			from := r.x + float64(k)*w
			parts = append(parts, " Q", xy(from+w/2, y+bow*2), "", xy(from+w, y))
		}
		d.path("fibre", parts...)
	}
}

// drawWall draws the wall behind as a cut solid.
func drawWall(d *drawing, r rectangle) {
	d.rect("solid", r)
	for down := 9.0; down < r.h+r.w; down += 9 { // lines up to the right, cut off at the edges
		left, right := max(0, down-r.h), min(r.w, down)
		d.line("cut", xy(r.x+left, r.y+down-left), xy(r.x+right, r.y+down-right))
	}
	d.text("walltext", xy(r.x+r.w/2, r.y-9), "wall")
}

// drawNumbers writes the number of each layer above it, with a line to its middle, and
// keeps them apart.
func drawNumbers(d *drawing, middles []float64) {
	const apart, y = 15.0, 16.0
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
		d.line("leader", xy(x, y+7), xy(middles[i], sectionTop))
		d.text("letter", xy(x, y), fmt.Sprint(i+1))
	}
}

// drawDepths writes the depth of the whole under it, and above that, unless one layer is
// all of it, that of every layer that is wide enough for its words.
func drawDepths(d *drawing, b *BuildUp, scale, wall float64) {
	y := sectionTop + sectionTall + 18
	x := wall - b.Depth*scale
	if b.Depth > 0 {
		drawDimension(d, x, wall, y+24, d.style.thickness(b.Depth))
	}
	for _, l := range b.Layers {
		w := l.Thickness * scale
		if words := d.style.thickness(l.Thickness); w > textWidth(words)+4 && l.Thickness < 0.98*b.Depth {
			drawDimension(d, x, x+w, y, words)
		}
		x += w
	}
}

// drawDimension draws a horizontal dimension with words above its middle.
func drawDimension(d *drawing, a, b, y float64, words string) {
	d.line("dim", xy(a, y), xy(b, y))
	for _, x := range []float64{a, b} {
		d.line("dim", xy(x-3, y+3), xy(x+3, y-3))
	}
	d.text("dimtext", xy((a+b)/2, y-7), words)
}

package build

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"evenbass/model/build"
	"evenbass/report/svg"
	"evenbass/report/text"
)

// newSheet draws one sheet with its parts, its cuts in order and its offcuts.
func (b *Report) newSheet(id, title string, p *pattern, width, height float64) *svg.Drawing {
	scale := cutWidth / width
	if tall := 320.0; height*scale > tall {
		scale = tall / height
	}
	v := func(c r2.Vec) svg.Point { return svg.XY(cutMargin+c.X*scale, 16+(height-c.Y)*scale) }
	d := &svg.Drawing{
		ID: id, Title: title, Desc: strings.Join(b.parts(p), "; ") + ".", Style: b.Style,
		Width: svg.Px(width*scale + 2*cutMargin), Height: svg.Px(height*scale + 50),
	}
	d.Rect("sheet", svg.RectAt(cutMargin, 16, width*scale, height*scale))
	for _, o := range p.sheet.Offcuts {
		at := v(r2.Vec{X: o.X, Y: o.Y + o.Height})
		d.Rect("offcut", svg.RectAt(at.X, at.Y, o.Width*scale, o.Height*scale))
	}
	for _, w := range p.sheet.Wedges {
		drawLoop(d, "offcut", w, v)
	}
	for i, place := range p.sheet.Places {
		drawLoop(d, "part", place.Corners, v)
		d.Label("mark", v(centroid(place.Corners)), p.Label(i), []svg.Point{{}})
	}
	for i, c := range p.sheet.Cuts {
		from, to := v(c[0]), v(c[1])
		d.Line("knife", from, to)
		if len(p.sheet.Cuts) <= 12 {
			at := svg.XY(from.X+(to.X-from.X)*0.12, from.Y+(to.Y-from.Y)*0.12)
			d.Label("cutnumber", at, fmt.Sprint(i+1), svg.Around(8, 3))
		}
	}
	d.Across(cutMargin, cutMargin+width*scale, height*scale+34, width, svg.Under)
	d.Upright(16, 16+height*scale, cutMargin-12, height, svg.Before)
	for _, part := range b.parts(p) {
		d.Key = append(d.Key, svg.KeyEntry{Text: part})
	}
	return d
}

// drawLoop draws a closed outline.
func drawLoop(d *svg.Drawing, class string, corners []r2.Vec, v func(r2.Vec) svg.Point) {
	var parts []any
	for i, c := range corners {
		parts = append(parts, map[bool]string{true: "M", false: "L"}[i == 0], v(c))
	}
	d.Path(class, append(parts, "Z")...)
}

func centroid(corners []r2.Vec) r2.Vec {
	var sum r2.Vec
	for _, c := range corners {
		sum = r2.Add(sum, c)
	}
	return r2.Scale(1/float64(len(corners)), sum)
}

// sheetDrawings draws each way to cut the batts, and the rolls.
func (b *Report) sheetDrawings() []*svg.Drawing {
	var list []*svg.Drawing
	for i, use := range b.Plan.Batts {
		for j, p := range b.patterns(use.Nesting.Sheets, use.Shapes) {
			title := b.words(build.BattTitle(use.Batt)) + ", " + p.title("batt")
			list = append(list, b.newSheet(fmt.Sprintf("batt-%d-%d", i, j), title, &p, use.Batt.Length, use.Batt.Width))
		}
	}
	for k, uses := range [][]build.RollUse{b.Plan.Films, b.Plan.Cloths} {
		for i, use := range uses {
			for j, p := range b.patterns(use.Unrolling.Rolls, use.Shapes) {
				title := fmt.Sprintf("%s, %s", text.OrElse(use.Roll.Title(), "cloth"), p.title("roll"))
				length := math.Max(use.Unrolling.Used[p.first-1], 0.1)
				list = append(list, b.newSheet(fmt.Sprintf("roll-%d-%d-%d", k, i, j), title, &p, length, use.Roll.Width))
			}
		}
	}
	return list
}

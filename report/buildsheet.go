package report

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"evenbass/model/build"
)

// newSheet draws one sheet with its parts, its cuts in order and its offcuts.
func (b *Building) newSheet(id, title string, p *pattern, width, height float64) *drawing {
	scale := cutWidth / width
	if tall := 320.0; height*scale > tall {
		scale = tall / height
	}
	v := func(c r2.Vec) point { return xy(cutMargin+c.X*scale, 16+(height-c.Y)*scale) }
	d := &drawing{
		ID: id, Title: title, Desc: strings.Join(b.parts(p), "; ") + ".", style: b.Style,
		Width: px(width*scale + 2*cutMargin), Height: px(height*scale + 50),
	}
	d.rect("sheet", rectAt(cutMargin, 16, width*scale, height*scale))
	for _, o := range p.sheet.Offcuts {
		at := v(r2.Vec{X: o.X, Y: o.Y + o.Height})
		r := rectAt(at.x, at.y, o.Width*scale, o.Height*scale)
		d.rect("offcut", r)
		if words := b.Style.sides(o.Width, o.Height); textWidth(words) < r.w && r.h > 14 {
			d.label("othertext", r.centre(), words, []point{{}})
		}
	}
	for i, place := range p.sheet.Places {
		drawLoop(d, "part", place.Corners, v)
		d.label("mark", v(centroid(place.Corners)), p.label(i), []point{{}})
	}
	for i, c := range p.sheet.Cuts {
		from, to := v(c[0]), v(c[1])
		d.line("knife", from, to)
		if len(p.sheet.Cuts) <= 12 {
			at := xy(from.x+(to.x-from.x)*0.12, from.y+(to.y-from.y)*0.12)
			d.label("cutnumber", at, fmt.Sprint(i+1), around(8, 3))
		}
	}
	d.across(cutMargin, cutMargin+width*scale, height*scale+34, width, under)
	d.upright(16, 16+height*scale, cutMargin-12, height, before)
	for _, part := range b.parts(p) {
		d.Key = append(d.Key, keyEntry{Text: part})
	}
	return d
}

// drawLoop draws a closed outline.
func drawLoop(d *drawing, class string, corners []r2.Vec, v func(r2.Vec) point) {
	var parts []any
	for i, c := range corners {
		parts = append(parts, map[bool]string{true: "M", false: "L"}[i == 0], v(c))
	}
	d.path(class, append(parts, "Z")...)
}

func centroid(corners []r2.Vec) r2.Vec {
	var sum r2.Vec
	for _, c := range corners {
		sum = r2.Add(sum, c)
	}
	return r2.Scale(1/float64(len(corners)), sum)
}

// sheetDrawings draws each way to cut the batts, and the rolls.
func (b *Building) sheetDrawings() []*drawing {
	var list []*drawing
	for i, use := range b.Plan.Batts {
		for j, p := range b.patterns(use.Nesting.Sheets, use.Shapes) {
			title := printable(use.Batt.Title()) + ", " + p.title("batt")
			list = append(list, b.newSheet(fmt.Sprintf("batt-%d-%d", i, j), title, &p, use.Batt.Length, use.Batt.Width))
		}
	}
	for k, uses := range [][]build.RollUse{b.Plan.Films, b.Plan.Cloths} {
		for i, use := range uses {
			for j, p := range b.patterns(use.Unrolling.Rolls, use.Shapes) {
				title := fmt.Sprintf("%s, %s", orElse(use.Roll.Title(), "cloth"), p.title("roll"))
				length := math.Max(use.Unrolling.Used[p.first-1], 0.1)
				list = append(list, b.newSheet(fmt.Sprintf("roll-%d-%d-%d", k, i, j), title, &p, length, use.Roll.Width))
			}
		}
	}
	return list
}

package build

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"evenbass/model"
	"evenbass/model/build"
	"evenbass/report/svg"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// trim is what pieces have in common that a slope trims alike.
type trim struct {
	outline model.Polygon // as one sees it who faces the piece, m from its lower left
	marks   []string
	shape   build.Shape
}

// slantingEdge is an edge of an outline that is neither level nor upright.
type slantingEdge struct {
	from, to r2.Vec // from left to right
}

func (e slantingEdge) length() float64 { return r2.Norm(r2.Sub(e.to, e.from)) }

// angle is that to the level, rad, below 0 where the edge falls to the right.
func (e slantingEdge) angle() float64 { return math.Atan2(e.to.Y-e.from.Y, e.to.X-e.from.X) }

// faced returns the outline of a piece as one sees it who faces it; nil for a rectangle.
func (b *Report) faced(p *build.Piece) model.Polygon {
	t := &b.Project.Room.Treatments[p.Treatment]
	if f := t.Patch.Face; t.Form != model.OnWall || f != model.Back && f != model.Left {
		return p.Outline
	}
	mirrored := slices.Clone(p.Outline)
	for i := range mirrored {
		mirrored[i].X = p.Width - mirrored[i].X
	}
	slices.Reverse(mirrored)
	return mirrored
}

// trims returns the ways in which slopes trim pieces, in the order of the pieces.
func (b *Report) trims() []trim {
	var list []trim
	seen := map[string]int{}
	for i := range b.Plan.Pieces {
		p := &b.Plan.Pieces[i]
		if p.Outline == nil {
			continue
		}
		t := trim{outline: b.faced(p), shape: build.Shape{Width: p.Width, Height: p.Height, Outline: p.Outline}}
		key := fmt.Sprintf("%.3f %.3f %.3f %.3f", p.Width, p.Height, t.outline.Ends(), edges(t.outline))
		at, ok := seen[key]
		if !ok {
			at = len(list)
			seen[key], list = at, append(list, t)
		}
		list[at].marks = append(list[at].marks, b.mark(i))
	}
	return list
}

// edges lists the slanting edges of an outline from the left.
func edges(outline model.Polygon) []slantingEdge {
	const level = 1e-6 // m
	var list []slantingEdge
	for i := range outline {
		from, to := outline.Edge(i)
		if math.Abs(from.X-to.X) < level || math.Abs(from.Y-to.Y) < level {
			continue
		}
		if from.X > to.X {
			from, to = to, from
		}
		list = append(list, slantingEdge{from, to})
	}
	slices.SortFunc(list, func(a, b slantingEdge) int { return cmp.Compare(a.from.X, b.from.X) })
	return list
}

// degrees writes an angle in rad.
func degrees(rad float64) string {
	return strings.TrimSuffix(unit.Decimal(math.Abs(rad)*180/math.Pi, 1), ".0") + "°"
}

// edgeText writes a slanting edge: "67.1 cm, rises at 35.8°".
func (b *Report) edgeText(e slantingEdge) string {
	way := "rises"
	if e.angle() < 0 {
		way = "falls"
	}
	return fmt.Sprintf("%s, %s at %s", b.Style.Sides(e.length()), way, degrees(e.angle()))
}

// trimTable lists the pieces that slopes trim, with what to mark on them.
func (b *Report) trimTable() text.Table {
	t := text.Table{
		Caption: "Pieces cut along the slope, as you face them: the heights of both sides, and each slanting edge from the left with its angle to the level",
		Head:    []string{"mark", "width", "left side", "right side", "slanting edges"}, Align: "lrrrl",
	}
	for _, trim := range b.trims() {
		ends := trim.outline.Ends()
		slants := b.cell(func(one *Report) string {
			var list []string
			for _, e := range edges(trim.outline) {
				list = append(list, one.edgeText(e))
			}
			return strings.Join(list, "; ")
		})
		t.Rows = append(t.Rows, []string{strings.Join(trim.marks, ", "), b.sizeCell(trim.shape.Width), b.sizeCell(ends[0]), b.sizeCell(ends[1]), slants})
	}
	return t
}

// trimDrawings draws each way in which slopes trim pieces, with the lengths and angles to mark.
func (b *Report) trimDrawings() []*svg.Drawing {
	var list []*svg.Drawing
	for i, t := range b.trims() {
		list = append(list, b.newTrim(fmt.Sprintf("trim-%d", i), &t))
	}
	return list
}

// Sizes in the drawing of a piece, in its own units.
const (
	trimWide  = 190.0 // greatest width of the piece
	trimTall  = 250.0
	trimWhole = cutWidth + 2*cutMargin // of the drawing, so that all are as large
)

func (b *Report) newTrim(id string, t *trim) *svg.Drawing {
	width, height := t.shape.Width, t.shape.Height
	scale := min(trimWide/width, trimTall/height)
	left := (trimWhole - width*scale) / 2
	v := func(c r2.Vec) svg.Point { return svg.XY(left+c.X*scale, 20+(height-c.Y)*scale) }
	var lines []string
	for _, e := range edges(t.outline) {
		lines = append(lines, "slanting edge "+b.edgeText(e))
	}
	d := &svg.Drawing{
		ID: id, Title: "Face of " + strings.Join(t.marks, ", "), Style: b.Style, Desc: strings.Join(lines, "; ") + ".",
		Width: svg.Px(trimWhole), Height: svg.Px(height*scale + 62),
	}
	drawLoop(d, "part", t.outline, v)
	drawLoop(d, "sheet", t.outline, v)
	low, high := v(r2.Vec{}), v(r2.Vec{Y: height})
	ends := t.outline.Ends()
	d.Across(low.X, low.X+width*scale, low.Y+22, width, svg.Under)
	if ends[0] > 0 {
		d.Upright(v(r2.Vec{Y: ends[0]}).Y, low.Y, low.X-14, ends[0], svg.Before)
	}
	if ends[1] > 0 {
		d.Upright(v(r2.Vec{Y: ends[1]}).Y, low.Y, low.X+width*scale+22, ends[1], svg.Before)
	}
	if top := max(ends[0], ends[1]); height > top+0.002 {
		d.Upright(high.Y, low.Y, low.X+width*scale+40, height, svg.Before)
	}
	for _, e := range edges(t.outline) {
		middle := v(r2.Scale(0.5, r2.Add(e.from, e.to)))
		below := 12 + math.Abs(math.Tan(e.angle()))*svg.TextWidth(degrees(e.angle()))/2 // clear of the edge
		d.Label("mark", middle, degrees(e.angle()), []svg.Point{svg.XY(0, below), svg.XY(0, below+12), svg.XY(0, below+24)})
	}
	for _, line := range lines {
		d.Key = append(d.Key, svg.KeyEntry{Text: line})
	}
	return d
}

// endsText says how the ends of a part of a frame are cut: ", both ends 35.8°".
func endsText(ends [2]float64) string {
	a, b := degrees(ends[0]), degrees(ends[1])
	switch {
	case a == "0°" && b == "0°":
		return ""
	case a == b:
		return " with both ends at " + a
	case a == "0°":
		return " with one end at " + b
	case b == "0°":
		return " with one end at " + a
	}
	if ends[0] > ends[1] {
		a, b = b, a
	}
	return " with ends at " + a + " and " + b
}

// trimmed reports whether a slope trims a piece of the plan.
func (b *Report) trimmed() bool {
	return slices.ContainsFunc(b.Plan.Pieces, func(p build.Piece) bool { return p.Outline != nil })
}

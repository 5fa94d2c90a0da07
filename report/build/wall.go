package build

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/build"
	"evenbass/report/svg"
	"evenbass/report/text"
)

// Sizes in a drawing of a wall, in its own units.
const (
	wallWide   = 520.0 // greatest width of a wall
	wallNarrow = 284.0 // on a phone
	wallTall   = 330.0 // greatest height
	wallMargin = 34.0
)

// wallView maps a wall to a drawing, as someone in the room who faces it sees it. The
// ceiling is drawn like the plan: from above, with the front wall at the top.
type wallView struct {
	face        model.Face
	width, tall float64 // of the wall, m
	scale, left float64 // drawing units per metre, and where the wall begins
	whole       float64 // width of the drawing
}

func newWallView(r *model.Room, f model.Face, form svg.Form) wallView {
	wide := wallWide
	if form != svg.Wide {
		wide = wallNarrow
	}
	v := wallView{face: f, whole: wide + 2*wallMargin}
	v.width, v.tall = r.Extent(f)
	if f == model.Ceiling {
		v.width, v.tall = r.Size.Y, r.Size.X
	}
	v.scale = min(wide/v.width, wallTall/v.tall)
	v.left = (v.whole - v.width*v.scale) / 2
	return v
}

// span returns where a patch is from left to right as one faces the wall, and from
// bottom to top; on the ceiling, from the front wall.
func (v wallView) span(p model.Patch) (across, up model.Range) {
	across = model.Range{Min: p.Along, Max: p.Along + p.Width}
	up = model.Range{Min: p.Up, Max: p.Up + p.Height}
	switch v.face {
	case model.Back, model.Left:
		across = model.Range{Min: v.width - across.Max, Max: v.width - across.Min}
	case model.Ceiling:
		across, up = up, across
	}
	return across, up
}

func (v wallView) Rect(p model.Patch) svg.Rectangle {
	across, up := v.span(p)
	r := svg.RectAt(v.left+across.Min*v.scale, 0, (across.Max-across.Min)*v.scale, (up.Max-up.Min)*v.scale)
	r.Y = 24 + (v.tall-up.Max)*v.scale
	if v.face == model.Ceiling {
		r.Y = 24 + up.Min*v.scale
	}
	return r
}

// At returns where a place on an upright wall is drawn, along it and up.
func (v wallView) At(c r2.Vec) svg.Point {
	if v.face == model.Back || v.face == model.Left {
		c.X = v.width - c.X
	}
	return svg.XY(v.left+c.X*v.scale, 24+(v.tall-c.Y)*v.scale)
}

// outline returns the corners of an upright wall, along it and up: under a sloped ceiling it ends there.
func (v wallView) outline(r *model.Room) []r2.Vec {
	if len(r.Slopes) == 0 || v.face == model.Ceiling {
		return nil
	}
	along := func(p r3.Vec) float64 { return [2]float64{p.Y, p.X}[v.face.Axis()] }
	from, to := r.WallEnds(v.face)
	corners := model.Polygon{{}, {X: v.width}}
	for _, p := range slices.Backward(r.CeilingLine(from, to)) {
		corners = append(corners, r2.Vec{X: along(p), Y: p.Z})
	}
	return corners.Simplified()
}

// leftCorner names the corner from which distances along the wall count.
func (v wallView) leftCorner() string {
	switch v.face {
	case model.Front, model.Ceiling:
		return "left wall"
	case model.Right:
		return "front wall"
	case model.Back:
		return "right wall"
	}
	return "back wall"
}

// newWall draws a wall with every piece on it, openings, what stays free, and the
// distances to mark with a tape.
func (b *Report) newWall(f model.Face, form svg.Form) *svg.Drawing {
	v := newWallView(&b.Project.Room, f, form)
	pieces := b.on(f)
	title := text.Sentence(f.Wall()) + ", as you face it from the room"
	if f == model.Ceiling {
		title = "Ceiling, seen from above like the plan, the front wall at the top"
	}
	d := &svg.Drawing{
		ID: form.Name("wall-" + f.String()), Title: title, Desc: b.wallDesc(v, pieces), Style: b.Style,
		Width: svg.Px(v.whole), Height: svg.Px(v.tall*v.scale + 24 + 74),
	}
	whole := svg.RectAt(v.left, 24, v.width*v.scale, v.tall*v.scale)
	if outline := v.outline(&b.Project.Room); outline != nil {
		drawLoop(d, "wallface", outline, v.At)
	} else {
		d.Rect("wallface", whole)
	}
	b.drawObstructions(d, v)
	for _, h := range pieces {
		if h.outline != nil {
			drawLoop(d, "treatment", h.outline, v.At)
		} else {
			d.Rect("treatment", v.Rect(h.patch))
		}
	}
	for _, h := range pieces {
		d.Label("mark", v.Rect(h.patch).Centre(), b.mark(h.piece), v.Rect(h.patch).Offsets())
	}
	drawAcross(d, v, pieces, whole)
	drawUp(d, v, pieces, whole)
	return d
}

// drawObstructions draws what keeps pieces off a wall: openings, and what must stay free.
func (b *Report) drawObstructions(d *svg.Drawing, v wallView) {
	for i, o := range b.Project.Room.Openings {
		if in, ok := b.Project.Room.BorderPatch(&o); ok && in.Face == v.face {
			d.Rect("opening "+svg.KindClass(o.Kind)+" seen", v.Rect(in))
			d.Letter(svg.OpeningNumber(b.Project, i), v.Rect(in), text.Printable(text.OpeningName(o)))
		}
	}
	free := func(name string, p model.Patch) {
		d.Rect("clear", v.Rect(p))
		if name != "" {
			d.Label("othertext", v.Rect(p).Centre(), text.Printable(name), append([]svg.Point{svg.XY(0, 0)}, svg.Around(12, 3)...))
		}
	}
	for _, k := range slices.Concat(b.Project.Room.Blocks, b.Project.KeepClear) {
		if against(k, v.face, b.Project.Room.Size) {
			free(k.Name, k.Shadow(v.face))
		}
	}
	for i, p := range b.Plan.Pieces {
		if b.Project.Room.Treatments[p.Treatment].Form == model.FreeStanding && against(p.Space, v.face, b.Project.Room.Size) {
			free(b.mark(i), p.Space.Shadow(v.face))
		}
	}
	if b.Project.Stock == nil {
		return
	}
	for _, k := range b.Project.Stock.Free {
		if k.OnWall && k.Patch.Face == v.face {
			free(k.Name, k.Patch)
		}
	}
}

// against reports whether a block stands against an upright wall.
func against(k model.Block, f model.Face, size r3.Vec) bool {
	const near = 0.05
	switch f {
	case model.Front:
		return k.Min.X < near
	case model.Back:
		return k.Max.X > size.X-near
	case model.Left:
		return k.Min.Y < near
	case model.Right:
		return k.Max.Y > size.Y-near
	}
	return false
}

// drawAcross draws the chain of distances along the wall.
func drawAcross(d *svg.Drawing, v wallView, pieces []hung, whole svg.Rectangle) {
	var at []float64
	for _, h := range pieces {
		across, _ := v.span(h.patch)
		at = append(at, across.Min, across.Max)
	}
	at = tapeMarks(at, v.width)
	y := whole.Y + whole.H + 22
	d.Across(whole.X, whole.X+whole.W, y+26, v.width, svg.Under)
	for i := 1; i < len(at); i++ {
		d.Across(whole.X+at[i-1]*v.scale, whole.X+at[i]*v.scale, y, at[i]-at[i-1], svg.Under)
	}
}

// drawUp draws the chain of heights above the floor.
func drawUp(d *svg.Drawing, v wallView, pieces []hung, whole svg.Rectangle) {
	var at, slanting []float64
	for _, h := range pieces {
		_, up := v.span(h.patch)
		if at = append(at, up.Min); h.outline == nil {
			at = append(at, up.Max)
		}
		for _, c := range h.outline {
			slanting = append(slanting, c.Y)
		}
	}
	at = tapeMarks(at, v.tall)
	for _, height := range slanting {
		if !slices.ContainsFunc(at, func(mark float64) bool { return math.Abs(mark-height) < nearMark }) {
			at = tapeMarks(append(at, height), v.tall)
		}
	}
	y := func(up float64) float64 {
		if v.face == model.Ceiling {
			return whole.Y + up*v.scale
		}
		return whole.Y + (v.tall-up)*v.scale
	}
	for i := 1; i < len(at); i++ {
		d.Upright(min(y(at[i-1]), y(at[i])), max(y(at[i-1]), y(at[i])), whole.X-14, at[i]-at[i-1], svg.Before)
	}
	d.Upright(whole.Y, whole.Y+whole.H, whole.X+whole.W+26, v.tall, svg.Before)
}

// nearMark is how near to another the height of a slanting edge's end is left out of the drawing, m: the table
// has it.
const nearMark = 0.04

// tapeMarks returns the marks from 0 to the end, each once.
func tapeMarks(at []float64, end float64) []float64 {
	at = append(at, 0, end)
	slices.Sort(at)
	return slices.CompactFunc(at, func(a, b float64) bool { return math.Abs(b-a) < 0.002 })
}

// wallDesc says in words where the pieces are.
func (b *Report) wallDesc(v wallView, pieces []hung) string {
	text := ""
	for _, h := range pieces {
		across, up := v.span(h.patch)
		text += fmt.Sprintf("%s begins %s from the %s, ", b.mark(h.piece), b.Style.Tape(across.Min), v.leftCorner())
		if v.face == model.Ceiling {
			text += fmt.Sprintf("%s from the front wall. ", b.Style.Tape(up.Min))
		} else {
			text += fmt.Sprintf("its lower edge is %s above the floor. ", b.Style.Tape(up.Min))
		}
	}
	return text
}

// hangingTable lists the pieces of a wall, with the numbers to mark.
func (b *Report) hangingTable(f model.Face) text.Table {
	v := newWallView(&b.Project.Room, f, svg.Wide)
	t := text.Table{
		Caption: "Measure along the wall from the corner with the " + v.leftCorner() + ", on your left",
		Head:    []string{"mark", "from the corner", "lower edge", "upper edge", "weight", "people", "held by"}, Align: "lrrrrrl",
	}
	if f == model.Ceiling {
		t.Caption = "Measure from the left wall and from the front wall; the height is that of the lower face"
		t.Head = []string{"mark", "from the left wall", "from the front wall", "lower face", "weight", "people", "held by"}
		if len(b.Project.Room.Slopes) > 0 {
			t.Caption = "Measure level, from the left wall and from the front wall; the height is that of the lowest edge"
			t.Head[3] = "lowest edge"
		}
	}
	for _, h := range b.on(f) {
		p := &b.Plan.Pieces[h.piece]
		across, up := v.span(h.patch)
		heights := []string{b.tapeCell(up.Min), b.cell(func(one *Report) string { return one.upperEdge(p, up) })}
		if f == model.Ceiling {
			heights[1] = b.tapeCell(p.Lower())
		}
		t.Rows = append(t.Rows, []string{b.mark(h.piece), b.tapeCell(across.Min), heights[0], heights[1], b.weightCell(p.Weight), fmt.Sprint(p.Persons), fixingLine(p)})
	}
	return t
}

// upperEdge writes how high a piece reaches above the floor: at both sides as one faces it, if a slope trims it.
func (b *Report) upperEdge(p *build.Piece, up model.Range) string {
	if p.Outline == nil {
		return b.Style.Tape(up.Max)
	}
	ends := b.faced(p).Ends()
	words := fmt.Sprintf("%s left, %s right", b.Style.Tape(up.Min+ends[0]), b.Style.Tape(up.Min+ends[1]))
	if p.Height > max(ends[0], ends[1])+0.002 {
		words += ", " + b.Style.Tape(up.Max) + " between"
	}
	return words
}

// standingTable lists the pieces that stand free in the room.
func (b *Report) standingTable() text.Table {
	t := text.Table{Caption: "What stands free: its nearest corner and its size", Head: []string{"mark", "from the front wall", "from the left wall", "above the floor", "size", "weight", "held by"}, Align: "lrrrrrl"}
	for i := range b.Plan.Pieces {
		p := &b.Plan.Pieces[i]
		if b.Project.Room.Treatments[p.Treatment].Form != model.FreeStanding {
			continue
		}
		size := r3.Sub(p.Space.Max, p.Space.Min)
		t.Rows = append(t.Rows, []string{
			b.mark(i), b.tapeCell(p.Space.Min.X), b.tapeCell(p.Space.Min.Y), b.tapeCell(p.Space.Min.Z),
			b.sizeCell(size.X, size.Y, size.Z), b.weightCell(p.Weight), fixingLine(p),
		})
	}
	return t
}

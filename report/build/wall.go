package build

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
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

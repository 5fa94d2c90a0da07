package report

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
)

// Space about the room in both drawings, for the tape distances.
const (
	marginSide   = 68.0
	marginTop    = 62.0
	marginBottom = 72.0
	roomWidth    = 344.0 // greatest width of the room in a drawing
	planHeight   = 520.0 // greatest height of the room on the plan
	sideHeight   = 260.0 // and in the side view
)

// things draws what stands in the room and what is kept clear.
func (d *drawing) things(p *model.Project, v view) {
	for _, b := range p.Room.Blocks {
		d.rect("block", v.box(b))
	}
	for _, b := range p.KeepClear {
		d.rect("clear", v.box(b))
	}
	for i, b := range p.Room.Blocks {
		d.letter(i, v.box(b), printable(b.Name))
	}
	for i, b := range p.KeepClear {
		d.letter(len(p.Room.Blocks)+i, v.box(b), printable(b.Name)+" (kept clear)")
	}
}

func (d *drawing) cabinets(class string, l model.Layout, s *model.Speakers, v view) {
	for _, at := range []r3.Vec{l.Left, l.Right} {
		if s.Box == (model.Dimensions{}) {
			d.circle(class, v.at(at), 4)
			continue
		}
		d.rect(class, v.box(s.Cabinet(at)))
	}
}

// layout draws a layout: boxes, woofers, head and how far in m each may be off its mark;
// 0 draws no circle.
func (d *drawing) layout(l model.Layout, off [3]float64, s *model.Speakers, v view) {
	d.cabinets("cabinet", l, s, v)
	for i, m := range marks(l) {
		if off[i] > 0 && !v.side {
			d.circle("tolerance", v.at(m.at), off[i]*v.scale)
		}
	}
	head := v.at(l.Seat)
	r := 0.1 * v.scale
	if !v.side {
		d.path("head", "M", xy(head.x-r/2, head.y-r*0.8), "L", xy(head.x, head.y-r*1.6), "L", xy(head.x+r/2, head.y-r*0.8))
	} else {
		d.path("head", "M", xy(head.x-r*0.8, head.y-r/2), "L", xy(head.x-r*1.6, head.y), "L", xy(head.x-r*0.8, head.y+r/2))
	}
	d.circle("head", head, r)
	for _, m := range marks(l) {
		d.circle("mark", v.at(m.at), 2.6)
	}
}

// planTape draws the tape distances from the walls to every mark.
func (d *drawing) planTape(l model.Layout, size r3.Vec, v view) {
	left, right, head := v.at(l.Left), v.at(l.Right), v.at(l.Seat)
	edge := v.box(model.Block{Max: size})
	top, bottom, end := edge.y, edge.y+edge.h, edge.x+edge.w
	for _, p := range []point{left, right} {
		d.line("ext", xy(p.x, top-18), p)
	}
	d.line("ext", xy(edge.x-20, left.y), left)
	d.line("ext", xy(head.x, top-42), head)
	d.line("ext", xy(end+20, head.y), head)

	d.across(edge.x, left.x, top-14, l.Left.Y, before)
	d.across(left.x, right.x, top-14, l.Right.Y-l.Left.Y, under)
	d.across(right.x, end, top-14, size.Y-l.Right.Y, after)
	d.across(edge.x, head.x, top-38, l.Seat.Y, before)
	d.across(head.x, end, top-38, size.Y-l.Seat.Y, after)
	d.upright(top, left.y, edge.x-16, l.Left.X, after)
	d.upright(top, bottom, edge.x-42, size.X, before)
	d.upright(top, head.y, end+22, l.Seat.X, under)
	d.upright(head.y, bottom, end+22, size.X-l.Seat.X, after)
	if math.Abs(l.Left.X-l.Right.X) >= 0.005 {
		d.line("ext", xy(end+50, right.y), right)
		d.upright(top, right.y, end+50, l.Right.X, after)
	}
	d.text("walltext", xy((edge.x+end)/2, top-56), "front wall")
}

// planFoot draws the room's width and the scale so far below what is under the room.
func (d *drawing) planFoot(size r3.Vec, v view, below float64) {
	edge := v.box(model.Block{Max: size})
	bottom := edge.y + edge.h + below
	d.across(edge.x, edge.x+edge.w, bottom+24, size.Y, before)
	d.scaleBar(xy(edge.x, bottom+42), v.scale)
}

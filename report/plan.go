package report

import (
	"fmt"
	"math"
	"strconv"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/optimize"
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

// newPlan draws the room from above, the front wall at the top.
func newPlan(in *Input) *drawing {
	size := in.Project.Room.Size
	v := view{origin: point{marginSide, marginTop}, scale: min(roomWidth/size.Y, planHeight/size.X)}
	d := &drawing{
		ID: "plan", Title: "Plan of the room with the first layout", Desc: planDesc(in),
		Width: px(size.Y*v.scale + 2*marginSide), Height: px(size.X*v.scale + marginTop + marginBottom), style: in.Style,
	}
	d.keepMarks(in, v)
	d.rect("floor", v.box(model.Block{Max: size}))
	d.zones(in.Project, v)
	d.things(in.Project, v)
	d.treatments(in.Project, v)
	d.planWalls(&in.Project.Room, v)
	d.openings(in.Project, v)
	d.others(in, v)
	d.layout(in.best(), &in.Project.Speakers, v)
	d.planTape(in.best().Layout, size, v)
	d.planFoot(size, v, 0)
	d.sortKey()
	return d
}

// keepMarks lets the marks of all layouts claim their space, before any letter does.
func (d *drawing) keepMarks(in *Input, v view) {
	for _, c := range in.Result.Shown() {
		for _, m := range marks(c.Layout) {
			p := v.at(m.at)
			d.keep(rectangle{p.x - 6, p.y - 6, 12, 12})
		}
	}
}

// planDesc tells in words what the plan shows.
func planDesc(in *Input) string {
	s, size := in.Style, in.Project.Room.Size
	text := fmt.Sprintf("The room is %s long and %s wide; the front wall is at the top. ", s.Length(size.X), s.Length(size.Y))
	for _, m := range marks(in.best().Layout) {
		text += fmt.Sprintf("The %s is %s from the front wall and %s from the left wall. ", m.name, s.Tape(m.at.X), s.Tape(m.at.Y))
	}
	return text
}

// zones tints where speakers and seat may be.
func (d *drawing) zones(p *model.Project, v view) {
	for _, z := range p.Speakers.Zones {
		d.rect("zone speakers", v.box(zoneBlock(z, p.Room.Size, 0)))
	}
	if len(p.Speakers.Zones) > 0 {
		d.Key = append(d.Key, keyEntry{Tint: "speakers", Text: "woofers may be here"})
	}
	if len(p.Seats) == 0 || len(p.Seats[0].Zones) == 0 {
		return
	}
	for _, z := range p.Seats[0].Zones {
		d.rect("zone seat", v.box(zoneBlock(z, p.Room.Size, 0.06)))
	}
	d.Key = append(d.Key, keyEntry{Tint: "seat", Text: "the head may be here"})
}

// zoneBlock returns a zone as a block; where a zone gives no y it is a strip of
// that half width along the mid-line, or the whole width for none.
func zoneBlock(z model.Zone, size r3.Vec, strip float64) model.Block {
	b := model.Block{Max: size}
	if z.X.Given() {
		b.Min.X, b.Max.X = z.X.Min, z.X.Max
	}
	switch {
	case z.Y.Given():
		b.Min.Y, b.Max.Y = z.Y.Min, z.Y.Max
	case strip > 0:
		b.Min.Y, b.Max.Y = size.Y/2-strip, size.Y/2+strip
	}
	return b
}

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

// others draws the present layout dashed and the further ones as small numbers.
func (d *drawing) others(in *Input, v view) {
	if now := in.Result.Now; now != nil {
		d.cabinets("now", now.Layout, &in.Project.Speakers, v)
		d.circle("now", v.at(now.Layout.Seat), 0.1*v.scale)
		for _, m := range marks(now.Layout) {
			d.label("nowtext", v.at(m.at), "now", around(15, 4))
		}
	}
	for i := 1; i < len(in.Result.Candidates); i++ {
		for _, m := range marks(in.Result.Candidates[i].Layout) {
			d.circle("other", v.at(m.at), 3)
			d.label("othertext", v.at(m.at), strconv.Itoa(i+1), around(10, 4))
		}
	}
}

// layout draws the first layout: boxes, woofers, head and how far each may be off.
func (d *drawing) layout(c *optimize.Candidate, s *model.Speakers, v view) {
	d.cabinets("cabinet", c.Layout, s, v)
	for i, m := range marks(c.Layout) {
		radius := [3]float64{c.Tolerance.Left, c.Tolerance.Right, c.Tolerance.Seat}[i]
		if radius > 0 && !v.side {
			d.circle("tolerance", v.at(m.at), radius*v.scale)
		}
	}
	head := v.at(c.Layout.Seat)
	r := 0.1 * v.scale
	if !v.side {
		d.path("head", "M", point{head.x - r/2, head.y - r*0.8}, "L", point{head.x, head.y - r*1.6}, "L", point{head.x + r/2, head.y - r*0.8})
	} else {
		d.path("head", "M", point{head.x - r*0.8, head.y - r/2}, "L", point{head.x - r*1.6, head.y}, "L", point{head.x - r*0.8, head.y + r/2})
	}
	d.circle("head", head, r)
	for _, m := range marks(c.Layout) {
		d.circle("mark", v.at(m.at), 2.6)
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

// planTape draws the tape distances from the walls to every mark.
func (d *drawing) planTape(l model.Layout, size r3.Vec, v view) {
	left, right, head := v.at(l.Left), v.at(l.Right), v.at(l.Seat)
	edge := v.box(model.Block{Max: size})
	top, bottom, end := edge.y, edge.y+edge.h, edge.x+edge.w
	for _, p := range []point{left, right} {
		d.line("ext", point{p.x, top - 18}, p)
	}
	d.line("ext", point{edge.x - 20, left.y}, left)
	d.line("ext", point{head.x, top - 42}, head)
	d.line("ext", point{end + 20, head.y}, head)

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
		d.line("ext", point{end + 50, right.y}, right)
		d.upright(top, right.y, end+50, l.Right.X, after)
	}
	d.text("walltext", point{(edge.x + end) / 2, top - 56}, "front wall")
}

// planFoot draws the room's width and the scale so far below what is under the room.
func (d *drawing) planFoot(size r3.Vec, v view, below float64) {
	edge := v.box(model.Block{Max: size})
	bottom := edge.y + edge.h + below
	d.across(edge.x, edge.x+edge.w, bottom+24, size.Y, before)
	d.scaleBar(point{edge.x, bottom + 42}, v.scale)
}

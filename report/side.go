package report

import (
	"fmt"
	"math"
	"strconv"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
)

// newSide draws the room from the left wall, the front wall at the left edge.
func newSide(in *Input) *drawing {
	size := in.Project.Room.Size
	scale := min(roomWidth/size.X, sideHeight/size.Z)
	const top = 42.0
	v := view{origin: xy(marginSide, top+size.Z*scale), scale: scale, side: true}
	d := &drawing{
		ID: "side", Title: "Side view of the room with the first layout", Desc: sideDesc(in),
		Width: px(size.X*scale + 2*marginSide), Height: px(size.Z*scale + top + marginBottom + 24), style: in.Style,
	}
	keepMarks(d, in, v)
	d.rect("floor", v.box(model.Block{Max: size}))
	d.things(in.Project, v)
	d.treatments(in.Project, v)
	sideOpenings(d, in.Project, v)
	d.sideWalls(&in.Project.Room, in.best().Layout.Seat, v)
	sideOthers(d, in, v)
	d.layout(in.best().Layout, mayBeOff(in.best()), &in.Project.Speakers, v)
	sideTape(d, in.best().Layout, size, v)
	d.sortKey()
	return d
}

func sideDesc(in *Input) string {
	s, size := in.Style, in.Project.Room.Size
	text := fmt.Sprintf("The room is %s high. ", s.Length(size.Z))
	for _, m := range marks(in.best().Layout) {
		text += fmt.Sprintf("The %s is %s above the floor. ", m.name, s.Tape(m.at.Z))
	}
	return text
}

// sideOpenings draws openings in walls that face like the left or the right one as
// outlines.
func sideOpenings(d *drawing, p *model.Project, v view) {
	for i, o := range p.Room.Openings {
		s, ok := p.Room.Stretch(&o)
		if !ok || model.FaceOf(s.Inward).Axis() != 1 {
			continue
		}
		r := v.box(model.Block{
			Min: r3.Vec{X: s.From.X, Z: o.Patch.Up}, Max: r3.Vec{X: s.To.X, Z: o.Patch.Up + o.Patch.Height},
		})
		d.rect("outline", r)
		d.letter(openingNumber(p, i), r, openingKey(p, i))
	}
}

// sideOthers draws the present layout dashed and the further ones as numbers; the
// two woofers of a pair lie behind one another here, so one number is enough.
func sideOthers(d *drawing, in *Input, v view) {
	if now := in.Result.Now; now != nil {
		d.cabinets("now", now.Layout, &in.Project.Speakers, v)
		d.circle("now", v.at(now.Layout.Seat), 0.1*v.scale)
	}
	for i := 1; i < len(in.Result.Candidates); i++ {
		l := in.Result.Candidates[i].Layout
		for _, at := range []r3.Vec{l.Left, l.Seat} {
			d.circle("other", v.at(at), 3)
			d.label("othertext", v.at(at), strconv.Itoa(i+1), around(10, 4))
		}
	}
}

// sideTape draws the heights, and the distances from the front wall.
func sideTape(d *drawing, l model.Layout, size r3.Vec, v view) {
	left, head := v.at(l.Left), v.at(l.Seat)
	edge := v.box(model.Block{Max: size})
	bottom, end := edge.y+edge.h, edge.x+edge.w
	d.line("ext", xy(edge.x-20, left.y), left)
	d.line("ext", xy(end+20, head.y), head)
	d.line("ext", left, xy(left.x, bottom+24))
	d.line("ext", head, xy(head.x, bottom+50))

	d.upright(left.y, bottom, edge.x-16, l.Left.Z, before)
	d.upright(edge.y, bottom, edge.x-42, size.Z, before)
	d.upright(head.y, bottom, end+22, l.Seat.Z, before)
	if math.Abs(l.Left.Z-l.Right.Z) >= 0.005 {
		right := v.at(l.Right)
		d.line("ext", right, xy(end+50, right.y))
		d.upright(right.y, bottom, end+50, l.Right.Z, before)
	}
	d.across(edge.x, left.x, bottom+20, l.Left.X, after)
	d.across(edge.x, head.x, bottom+46, l.Seat.X, before)
	d.across(head.x, end, bottom+46, size.X-l.Seat.X, after)
	d.scaleBar(xy(edge.x, bottom+62), v.scale)
	d.text("walltext begin", xy(edge.x, edge.y-12), "front wall")
	d.text("walltext end", xy(end, edge.y-12), "back wall")
}

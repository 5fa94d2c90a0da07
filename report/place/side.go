package place

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/report/svg"
)

// newSide draws the room from the left wall, the front wall at the left edge.
func newSide(in *Report, form svg.Form) *svg.Drawing {
	size := in.Project.Room.Size
	scale := min(form.Width()/size.X, svg.SideHeight/size.Z)
	const top = 42.0
	v := svg.View{Origin: svg.XY(svg.MarginSide, top+size.Z*scale), Scale: scale, Side: true}
	d := &svg.Drawing{
		ID: form.Name("side"), Frame: v.String(), Title: "Side view of the room with the first layout", Desc: sideDesc(in),
		Width: svg.Px(size.X*scale + 2*svg.MarginSide), Height: svg.Px(size.Z*scale + top + svg.MarginBottom + 24), Style: in.Style,
	}
	keepMarks(d, in.best(), v)
	d.Rect("floor", v.Box(model.Block{Max: size}))
	d.Things(in.Project.StandingIn(in.best().Layout), v)
	d.Treatments(in.Project, v)
	sideOpenings(d, in.Project, v)
	d.SideWalls(&in.Project.Room, in.best().Layout.Seat, v)
	drawNow(d, in, v)
	d.Layout(in.best().Layout, mayBeOff(in.best()), &in.Project.Speakers, v)
	sideTape(d, in.best().Layout, size, v)
	d.SortKey()
	return d
}

func sideDesc(in *Report) string {
	s, size := in.Style, in.Project.Room.Size
	text := fmt.Sprintf("The room is %s high. ", s.Length(size.Z))
	for _, m := range svg.Marks(in.best().Layout) {
		text += fmt.Sprintf("The %s is %s above the floor. ", m.Name, s.Tape(m.At.Z))
	}
	return text
}

// sideOpenings outlines the openings in the left and right walls and in walls parallel to
// them.
func sideOpenings(d *svg.Drawing, p *model.Project, v svg.View) {
	for i, o := range p.Room.Openings {
		s, ok := p.Room.Stretch(&o)
		if !ok || model.FaceOf(s.Inward).Axis() != 1 {
			continue
		}
		r := v.Box(model.Block{
			Min: r3.Vec{X: s.From.X, Z: o.Patch.Up}, Max: r3.Vec{X: s.To.X, Z: o.Patch.Up + o.Patch.Height},
		})
		d.Rect("outline", r)
		d.Letter(svg.OpeningNumber(p, i), r, svg.OpeningKey(p, i))
	}
}

// sideTape draws the heights, and the distances from the front wall.
func sideTape(d *svg.Drawing, l model.Layout, size r3.Vec, v svg.View) {
	left, head := v.At(l.Left), v.At(l.Seat)
	edge := v.Box(model.Block{Max: size})
	bottom, end := edge.Y+edge.H, edge.X+edge.W
	d.Line("ext", svg.XY(edge.X-20, left.Y), left)
	d.Line("ext", svg.XY(end+20, head.Y), head)
	d.Line("ext", left, svg.XY(left.X, bottom+24))
	d.Line("ext", head, svg.XY(head.X, bottom+50))

	d.Upright(left.Y, bottom, edge.X-16, l.Left.Z, svg.Before)
	d.Upright(edge.Y, bottom, edge.X-42, size.Z, svg.Before)
	d.Upright(head.Y, bottom, end+22, l.Seat.Z, svg.Before)
	if math.Abs(l.Left.Z-l.Right.Z) >= 0.005 {
		right := v.At(l.Right)
		d.Line("ext", right, svg.XY(end+50, right.Y))
		d.Upright(right.Y, bottom, end+50, l.Right.Z, svg.Before)
	}
	d.Across(edge.X, left.X, bottom+20, l.Left.X, svg.After)
	d.Across(edge.X, head.X, bottom+46, l.Seat.X, svg.Before)
	d.Across(head.X, end, bottom+46, size.X-l.Seat.X, svg.After)
	d.ScaleBar(svg.XY(edge.X, bottom+62), v.Scale)
	d.Text("walltext begin", svg.XY(edge.X, edge.Y-12), "front wall")
	d.Text("walltext end", svg.XY(end, edge.Y-12), "back wall")
}

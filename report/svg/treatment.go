package svg

import (
	"fmt"
	"reflect"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// Treatments draws the absorbing pieces as deep as they are.
func (d *Drawing) Treatments(p *model.Project, v View) { d.Changed(p, nil, v) }

// Changed draws the absorbing pieces, and highlights those that are not among the pieces that
// were there before; nil highlights none.
func (d *Drawing) Changed(p *model.Project, before []model.Treatment, v View) {
	first := OpeningNumber(p, len(p.Room.Openings))
	for i, t := range p.Room.Treatments {
		b := p.Room.Space(&t)
		if t.Form == model.OnWall && len(p.Room.Slopes) == 0 {
			b = patchBlock(t.Patch, t.Depth(), p.Room.Size)
		}
		r, class := v.Box(b), "treatment"
		if before != nil && !slices.ContainsFunc(before, func(o model.Treatment) bool { return reflect.DeepEqual(o, t) }) {
			class = "treatment changed"
		}
		switch ends := t.Form == model.InCorner && t.Corner.Axis() == v.normal(); { // one looks along the edge
		case ends && p.Room.FollowsSlope(t.Corner):
			d.outline(class, p.Room.Section(t.Corner, (t.Corner.From+t.Corner.To)/2), v)
		case t.Form == model.OnWall && t.Patch.Face.Axis() == v.normal() && p.Room.Trimmed(&t):
			var face []r3.Vec
			for _, c := range p.Room.TrimmedFace(&t) {
				face = append(face, r3.Vec{X: c.X, Y: b.Min.Y, Z: c.Y})
			}
			d.outline(class, face, v)
		case ends && !t.Corner.Square:
			d.triangle(class, r, t.Corner, v)
		case t.Box.Kind == model.Column && !v.Side:
			d.Circle(class, XY(r.X+r.W/2, r.Y+r.H/2), r.W/2)
		default:
			d.Rect(class, r)
		}
		key := text.Printable(t.Name) + ", " + t.Where()
		if t.Furnished() {
			b.Furniture = t.Box.Furniture
			key = text.FurnitureTitle(b)
		}
		d.Letter(first+i, r, key)
	}
}

// outline draws a closed line through places in the room.
func (d *Drawing) outline(class string, places []r3.Vec, v View) {
	var parts []any
	for i, p := range places {
		parts = append(parts, [2]string{"M", "L"}[min(i, 1)], v.At(p))
	}
	d.Path(class, append(parts, "Z")...)
}

// triangle draws the half of a rectangle that is in the corner of two walls.
func (d *Drawing) triangle(class string, r Rectangle, c model.Corner, v View) {
	far := map[int]bool{} // by axis: the corner is at the end away from the origin
	for _, wall := range c.Walls {
		far[wall.Axis()] = wall.Far()
	}
	left, top := !far[1], !far[0] // on the plan, y runs to the right and x down
	if v.Side {
		left, top = !far[0], far[2] // x runs to the right and z up
	}
	x, y, w, h := r.X, r.Y, r.W, r.H
	if !left {
		x, w = r.X+r.W, -r.W
	}
	if !top {
		y, h = r.Y+r.H, -r.H
	}
	d.Path(class, "M", XY(x, y), "L", XY(x+w, y), "L", XY(x, y+h), "Z")
}

// patchBlock returns the space between a patch of a face and a depth in m in
// front of it. A patch without size is its whole face.
func patchBlock(patch model.Patch, depth float64, size r3.Vec) model.Block {
	along, up := (&model.Room{Size: size}).Extent(patch.Face)
	if patch.Width == 0 && patch.Height == 0 {
		patch.Width, patch.Height = along, up
	}
	low := [2]float64{patch.Along, patch.Up}
	high := [2]float64{patch.Along + patch.Width, patch.Up + patch.Height}
	axis := patch.Face.Axis()
	length := [3]float64{size.X, size.Y, size.Z}[axis]
	from, to := 0.0, depth
	if patch.Face.Far() {
		from, to = length-depth, length
	}
	vec := func(normal float64, in [2]float64) r3.Vec {
		switch axis {
		case 0:
			return r3.Vec{X: normal, Y: in[0], Z: in[1]}
		case 1:
			return r3.Vec{X: in[0], Y: normal, Z: in[1]}
		}
		return r3.Vec{X: in[0], Y: in[1], Z: normal}
	}
	return model.Block{Min: vec(from, low), Max: vec(to, high)}
}

// NewTreatmentPlan draws the room from above with its treatments, and returns how the
// room's coordinates map to the drawing.
func NewTreatmentPlan(p *model.Project, s unit.Style, form Form) (*Drawing, View) {
	size := p.Room.Size
	v := View{Origin: XY(MarginSide, 40), Scale: min(form.Width()/size.Y, PlanHeight/size.X)}
	d := &Drawing{
		ID: form.Name("plan"), Title: "Plan of the room with what is to be built", Style: s,
		Desc:  fmt.Sprintf("The room is %s long and %s wide; the front wall is at the top.", s.Length(size.X), s.Length(size.Y)),
		Width: Px(size.Y*v.Scale + 2*MarginSide), Height: Px(size.X*v.Scale + 40 + MarginBottom),
	}
	d.Rect("floor", v.Box(model.Block{Max: size}))
	d.RoomContents(p, v)
	d.Treatments(p, v)
	d.PlanWalls(&p.Room, v)
	d.Openings(p, v)
	edge := v.Box(model.Block{Max: size})
	d.Text("walltext", XY(edge.X+edge.W/2, edge.Y-16), "front wall")
	d.Across(edge.X, edge.X+edge.W, edge.Y+edge.H+24, size.Y, Before)
	d.Upright(edge.Y, edge.Y+edge.H, edge.X-24, size.X, Before)
	d.ScaleBar(XY(edge.X, edge.Y+edge.H+42), v.Scale)
	d.SortKey()
	return d, v
}

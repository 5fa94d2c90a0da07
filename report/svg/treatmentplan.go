package svg

import (
	"fmt"

	"evenbass/model"
	"evenbass/report/unit"
)

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
	d.Things(p, v)
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

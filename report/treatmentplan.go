package report

import (
	"fmt"

	"evenbass/model"
)

// newTreatmentPlan draws the room from above with its treatments, and returns how the
// room's coordinates map to the drawing.
func newTreatmentPlan(p *model.Project, s Style) (*drawing, view) {
	size := p.Room.Size
	v := view{origin: xy(marginSide, 40), scale: min(roomWidth/size.Y, planHeight/size.X)}
	d := &drawing{
		ID: "plan", Title: "Plan of the room with what is to be built", style: s,
		Desc:  fmt.Sprintf("The room is %s long and %s wide; the front wall is at the top.", s.Length(size.X), s.Length(size.Y)),
		Width: px(size.Y*v.scale + 2*marginSide), Height: px(size.X*v.scale + 40 + marginBottom),
	}
	d.rect("floor", v.box(model.Block{Max: size}))
	d.things(p, v)
	d.treatments(p, v)
	d.planWalls(&p.Room, v)
	d.openings(p, v)
	edge := v.box(model.Block{Max: size})
	d.text("walltext", xy(edge.x+edge.w/2, edge.y-16), "front wall")
	d.across(edge.x, edge.x+edge.w, edge.y+edge.h+24, size.Y, before)
	d.upright(edge.y, edge.y+edge.h, edge.x-24, size.X, before)
	d.scaleBar(xy(edge.x, edge.y+edge.h+42), v.scale)
	d.sortKey()
	return d, v
}

package report

import (
	"fmt"
	"strconv"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/optimize"
)

// newPlan draws the room from above, the front wall at the top.
func newPlan(in *Input) *drawing {
	size := in.Project.Room.Size
	v := view{origin: xy(marginSide, marginTop), scale: min(roomWidth/size.Y, planHeight/size.X)}
	d := &drawing{
		ID: "plan", Title: "Plan of the room with the first layout", Desc: planDesc(in),
		Width: px(size.Y*v.scale + 2*marginSide), Height: px(size.X*v.scale + marginTop + marginBottom), style: in.Style,
	}
	keepMarks(d, in, v)
	d.rect("floor", v.box(model.Block{Max: size}))
	drawZones(d, in.Project, v)
	d.things(in.Project, v)
	d.treatments(in.Project, v)
	d.planWalls(&in.Project.Room, v)
	d.openings(in.Project, v)
	drawOthers(d, in, v)
	d.layout(in.best().Layout, mayBeOff(in.best()), &in.Project.Speakers, v)
	d.planTape(in.best().Layout, size, v)
	d.planFoot(size, v, 0)
	d.sortKey()
	return d
}

// keepMarks lets the marks of all layouts claim their space, before any letter does.
func keepMarks(d *drawing, in *Input, v view) {
	for _, c := range in.Result.Shown() {
		for _, m := range marks(c.Layout) {
			p := v.at(m.at)
			d.keep(rectAt(p.x-6, p.y-6, 12, 12))
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

// drawZones tints where speakers and seat may be.
func drawZones(d *drawing, p *model.Project, v view) {
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
	d.Key = append(d.Key, keyEntry{Tint: "seat", Text: "the seat may be here"})
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

// drawOthers draws the present layout dashed and the further ones as small numbers.
func drawOthers(d *drawing, in *Input, v view) {
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

// mayBeOff is how far in m each mark of a layout may be off, in the order of the marks.
func mayBeOff(c *optimize.Candidate) [3]float64 {
	return [3]float64{c.Tolerance.Left, c.Tolerance.Right, c.Tolerance.Seat}
}

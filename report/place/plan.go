package place

import (
	"fmt"
	"strconv"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/optimize/score"
	"evenbass/report/svg"
)

// newPlan draws the room from above, the front wall at the top.
func newPlan(in *Report) *svg.Drawing {
	size := in.Project.Room.Size
	v := svg.View{Origin: svg.XY(svg.MarginSide, svg.MarginTop), Scale: min(svg.RoomWidth/size.Y, svg.PlanHeight/size.X)}
	d := &svg.Drawing{
		ID: "plan", Title: "Plan of the room with the first layout", Desc: planDesc(in),
		Width: svg.Px(size.Y*v.Scale + 2*svg.MarginSide), Height: svg.Px(size.X*v.Scale + svg.MarginTop + svg.MarginBottom), Style: in.Style,
	}
	keepMarks(d, in, v)
	d.Rect("floor", v.Box(model.Block{Max: size}))
	drawZones(d, in.Project, v)
	d.Things(in.Project, v)
	d.Treatments(in.Project, v)
	d.PlanWalls(&in.Project.Room, v)
	d.Openings(in.Project, v)
	drawOthers(d, in, v)
	d.Layout(in.best().Layout, mayBeOff(in.best()), &in.Project.Speakers, v)
	d.PlanTape(in.best().Layout, size, v)
	d.PlanFoot(size, v, 0)
	d.SortKey()
	return d
}

// keepMarks reserves space for the marks of all layouts before any letter is placed.
func keepMarks(d *svg.Drawing, in *Report, v svg.View) {
	for _, c := range in.Result.Shown() {
		for _, m := range svg.Marks(c.Layout) {
			p := v.At(m.At)
			d.Keep(svg.RectAt(p.X-6, p.Y-6, 12, 12))
		}
	}
}

// planDesc says in words what the plan shows.
func planDesc(in *Report) string {
	s, size := in.Style, in.Project.Room.Size
	text := fmt.Sprintf("The room is %s long and %s wide; the front wall is at the top. ", s.Length(size.X), s.Length(size.Y))
	for _, m := range svg.Marks(in.best().Layout) {
		text += fmt.Sprintf("The %s is %s from the front wall and %s from the left wall. ", m.Name, s.Tape(m.At.X), s.Tape(m.At.Y))
	}
	return text
}

// drawZones tints where speakers and seat may be.
func drawZones(d *svg.Drawing, p *model.Project, v svg.View) {
	for _, z := range p.Speakers.Zones {
		d.Rect("zone speakers", v.Box(zoneBlock(z, p.Room.Size, 0)))
	}
	if len(p.Speakers.Zones) > 0 {
		d.Key = append(d.Key, svg.KeyEntry{Tint: "speakers", Text: "woofers may be here"})
	}
	if len(p.Seats) == 0 || len(p.Seats[0].Zones) == 0 {
		return
	}
	for _, z := range p.Seats[0].Zones {
		d.Rect("zone seat", v.Box(zoneBlock(z, p.Room.Size, 0.06)))
	}
	d.Key = append(d.Key, svg.KeyEntry{Tint: "seat", Text: "the seat may be here"})
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
func drawOthers(d *svg.Drawing, in *Report, v svg.View) {
	if now := in.Result.Now; now != nil {
		d.Cabinets("now", now.Layout, &in.Project.Speakers, v)
		d.Circle("now", v.At(now.Layout.Seat), 0.1*v.Scale)
		for _, m := range svg.Marks(now.Layout) {
			d.Label("nowtext", v.At(m.At), "now", svg.Around(15, 4))
		}
	}
	for i := 1; i < len(in.Result.Candidates); i++ {
		for _, m := range svg.Marks(in.Result.Candidates[i].Layout) {
			d.Circle("other", v.At(m.At), 3)
			d.Label("othertext", v.At(m.At), strconv.Itoa(i+1), svg.Around(10, 4))
		}
	}
}

// mayBeOff is how far in m each mark of a layout may be off, in the order of the marks.
func mayBeOff(c *score.Candidate) [3]float64 {
	return [3]float64{c.Tolerance.Left, c.Tolerance.Right, c.Tolerance.Seat}
}

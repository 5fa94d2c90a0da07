package place

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/optimize/score"
	"evenbass/report/svg"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// newPlan draws the room from above with the first layout and the tape distances to it, the
// front wall at the top.
func newPlan(in *Report, form svg.Form) *svg.Drawing {
	size := in.Project.Room.Size
	v := svg.View{Origin: svg.XY(svg.MarginSide, svg.MarginTop), Scale: min(form.Width()/size.Y, svg.PlanHeight/size.X)}
	d := &svg.Drawing{
		ID: form.Name("plan"), Title: "Plan of the room with the first layout", Desc: planDesc(in), Frame: v.String(),
		Width: svg.Px(size.Y*v.Scale + 2*svg.MarginSide), Height: svg.Px(size.X*v.Scale + svg.MarginTop + svg.MarginBottom), Style: in.Style,
	}
	keepMarks(d, in.best(), v)
	d.Rect("floor", v.Box(model.Block{Max: size}))
	drawZones(d, in.Project, v)
	standing := in.Project.WithLayout(in.best().Layout)
	d.RoomContents(standing, v)
	d.Treatments(in.Project, v)
	d.PlanWalls(&in.Project.Room, v)
	d.Openings(in.Project, v)
	drawNow(d, in, v)
	d.Seats(score.OtherSeats(standing), v)
	drawMoves(d, in, v)
	d.Layout(in.best().Layout, mayBeOff(in.best()), &in.Project.Speakers, v)
	d.PlanTape(in.best().Layout, size, v)
	d.PlanFoot(size, v, 0)
	d.SortKey()
	return d
}

// smallPlan draws the places of layout n, counted from 1, beside the present ones: a plan
// without figures.
func smallPlan(in *Report, n int) *svg.Drawing {
	size, c := in.Project.Room.Size, &in.Result.Candidates[n-1]
	v := svg.View{Origin: svg.XY(8, 8), Scale: min(164/size.Y, 174/size.X)}
	d := &svg.Drawing{
		ID: fmt.Sprintf("plan-%d", n), Title: fmt.Sprintf("Plan of the room with layout %d", n), Desc: "The front wall is at the top. " + placesText(c, in.Style) + ".",
		Width: svg.Px(size.Y*v.Scale + 16), Height: svg.Px(size.X*v.Scale + 16), Style: in.Style, Frame: v.String(),
	}
	d.Rect("floor", v.Box(model.Block{Max: size}))
	d.PlanWalls(&in.Project.Room, v)
	d.Openings(in.Project, v)
	drawNow(d, in, v)
	d.Layout(c.Layout, [3]float64{}, &in.Project.Speakers, v)
	d.Shapes = slices.DeleteFunc(d.Shapes, func(s svg.Shape) bool { return s.Kind == "text" })
	return d
}

// keepMarks reserves space for the marks of a layout before any letter is placed.
func keepMarks(d *svg.Drawing, c *score.Candidate, v svg.View) {
	for _, m := range svg.Marks(c.Layout) {
		p := v.At(m.At)
		d.Keep(svg.RectAt(p.X-6, p.Y-6, 12, 12))
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
		d.Key = append(d.Key, svg.KeyEntry{Tint: "speakers", Text: "the speakers' woofers may be here"})
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

// drawNow draws the present layout dashed.
func drawNow(d *svg.Drawing, in *Report, v svg.View) {
	now := in.Result.Now
	if now == nil {
		return
	}
	d.Cabinets("now", now.Layout, &in.Project.Speakers, v)
	d.Circle("now", v.At(now.Layout.Seat), 0.1*v.Scale)
	for _, m := range svg.Marks(now.Layout) {
		d.Label("nowtext", v.At(m.At), "now", svg.Around(15, 4))
	}
}

// drawMoves points from where speakers and seat stand now to their marks.
func drawMoves(d *svg.Drawing, in *Report, v svg.View) {
	now := in.Result.Now
	if now == nil || stays(in) {
		return
	}
	from := svg.Marks(now.Layout)
	for i, to := range svg.Marks(in.best().Layout) {
		d.Arrow("move", v.At(from[i].At), v.At(to.At))
	}
}

// mayBeOff is how far in m each mark of a layout may be off, in the order of the marks.
func mayBeOff(c *score.Candidate) [3]float64 {
	return [3]float64{c.Tolerance.Left, c.Tolerance.Right, c.Tolerance.Seat}
}

// piecesTable lists where the absorbing pieces of a room stand and hang; without rows if it
// has none.
func piecesTable(r *model.Room, s unit.Style) text.Table {
	t := text.Table{
		Caption: "The pieces: distances to their nearer and farther edge, and their height above the floor",
		Head:    []string{"piece", "where", "from front wall", "from left wall", "lower edge", "upper edge"},
		Align:   "ll",
	}
	for i := range r.Treatments {
		if r.Treatments[i].Furnished() {
			continue
		}
		b := r.Space(&r.Treatments[i])
		t.Rows = append(t.Rows, []string{
			text.Printable(r.Treatments[i].Name), text.Printable(r.Treatments[i].Where()),
			s.RangeCell(b.Min.X, b.Max.X), s.RangeCell(b.Min.Y, b.Max.Y), s.Cell(b.Min.Z), s.Cell(b.Max.Z),
		})
	}
	return t
}

// crowding says how much of the client's second sheet the table of pieces takes, as classes of the page: with
// " crowded" all is smaller and the moves, which sheet 1 says too, are left out; with " full" the plan of sheet 1
// is not repeated either.
func crowding(r *model.Room, s unit.Style) string {
	lines := len(piecesTable(r, s).Rows)
	if s == unit.Both {
		lines *= 2
	}
	switch {
	case lines >= 10:
		return " crowded full"
	case lines >= 5:
		return " crowded"
	}
	return ""
}

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
	d.RoomContents(in.Project.WithLayout(in.best().Layout), v)
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

package subwoofer

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/optimize/subwoofer"
	"evenbass/report/svg"
)

// Space between two rows of tape distances to subwoofers on the plan.
const tapeRow = 24.0

// newPlan draws the room from above with the pair, every seat that counts and the
// subwoofers of a plan, all with tape distances.
func (m *Report) newPlan(p *subwoofer.Plan, form svg.Form) *svg.Drawing {
	size, l := m.Project.Room.Size, m.Result.Layout
	across, along := tapeStops(p, func(v r3.Vec) float64 { return v.Y }), tapeStops(p, func(v r3.Vec) float64 { return v.X })
	v := svg.View{Origin: svg.XY(svg.MarginSide, svg.MarginTop), Scale: min(form.Width()/size.Y, svg.PlanHeight/size.X)}
	right := svg.MarginSide + tapeRow*float64(len(along))
	if math.Abs(l.Left.X-l.Right.X) >= 0.005 {
		right += tapeRow
	}
	below := tapeRow * float64(len(across))
	d := &svg.Drawing{
		ID: form.Name("subs-plan"), Title: "Plan of the room with " + counted(len(p.Units)), Desc: m.planDesc(p),
		Width: svg.Px(size.Y*v.Scale + svg.MarginSide + right), Height: svg.Px(size.X*v.Scale + svg.MarginTop + svg.MarginBottom + below), Style: m.Style,
	}
	m.keepSubwooferMarks(d, p, v)
	d.Rect("floor", v.Box(model.Block{Max: size}))
	d.RoomContents(m.Project, v)
	d.Treatments(m.Project, v)
	d.PlanWalls(&m.Project.Room, v)
	d.Openings(m.Project, v)
	m.drawSubwoofers(d, p, v)
	d.Layout(l, [3]float64{}, &m.Project.Speakers, v)
	pair := svg.Marks(l)
	for _, k := range pair[:2] {
		d.Label("dimtext", v.At(k.At), k.Short, beside(1)) // and left and up from here
	}
	m.drawSeats(d, p, v)
	d.PlanTape(l, size, v)
	m.drawTape(d, across, along, v)
	d.PlanFoot(size, v, below)
	d.SortKey()
	return d
}

// keepSubwooferMarks lets every mark claim its space before any letter does.
func (m *Report) keepSubwooferMarks(d *svg.Drawing, p *subwoofer.Plan, v svg.View) {
	keep := func(at r3.Vec) {
		c := v.At(at)
		d.Keep(svg.RectAt(c.X-6, c.Y-6, 12, 12))
	}
	for _, k := range svg.Marks(m.Result.Layout) {
		keep(k.At)
	}
	for _, s := range p.Units {
		keep(s.Place.Driver)
	}
	for i := range p.Seats {
		keep(p.Seats[i].At)
	}
}

// planDesc tells in words what the plan shows.
func (m *Report) planDesc(p *subwoofer.Plan) string {
	s, size := m.Style, m.Project.Room.Size
	text := fmt.Sprintf("The room is %s long and %s wide; the front wall is at the top. ", s.Length(size.X), s.Length(size.Y))
	tell := func(name string, at r3.Vec) {
		text += fmt.Sprintf("The %s is %s from the front wall and %s from the left wall. ", name, s.Tape(at.X), s.Tape(at.Y))
	}
	pair := svg.Marks(m.Result.Layout)
	for _, k := range pair[:2] {
		tell(k.Name, k.At)
	}
	for i := range p.Seats {
		tell("middle between the ears at "+m.seat(i), p.Seats[i].At)
	}
	for i, sub := range p.Units {
		tell(fmt.Sprintf("middle of subwoofer %d", i+1), sub.Place.Driver)
	}
	return text
}

// drawSubwoofers draws the subwoofers of a plan with their names, and dashed those that stand
// already.
func (m *Report) drawSubwoofers(d *svg.Drawing, p *subwoofer.Plan, v svg.View) {
	s := m.Project.Subwoofers
	for _, at := range s.Placed {
		d.Rect("now", v.Box(s.Cabinet(m.Project.SubwooferPlaceAt(at))))
		d.Label("nowtext", v.At(at), "now", svg.Around(15, 4))
	}
	for i, sub := range p.Units {
		d.Rect("sub", v.Box(s.Cabinet(sub.Place)))
		at := v.At(sub.Place.Driver)
		d.Circle("mark", at, 2.6)
		d.Label("subtext", at, mark(i), beside(-1)) // tape goes right and down from here
	}
	if len(p.Units) > 0 {
		d.Key = append(d.Key, svg.KeyEntry{Letter: "S1, S2, ...", Text: "the subwoofers"})
	}
}

// beside returns offsets for a name beside a mark, the first right and below it for 1, left
// and above it for -1.
func beside(sign float64) []svg.Point {
	return append([]svg.Point{svg.XY(12*sign, 10*sign), svg.XY(12*sign, 16*sign)}, svg.Around(13, 4)...)
}

// drawSeats draws the further seats, and names all if there are several.
func (m *Report) drawSeats(d *svg.Drawing, p *subwoofer.Plan, v svg.View) {
	if len(p.Seats) < 2 {
		return
	}
	for i := range p.Seats {
		at, name, text := p.Seats[i].At, fmt.Sprintf("H%d", i+1), m.seat(i)
		if i > 0 {
			d.Circle("head", v.At(at), 0.1*v.Scale)
			d.Circle("mark", v.At(at), 2.6)
			text += fmt.Sprintf(" (%s from the front wall, %s from the left wall)", m.Style.Tape(at.X), m.Style.Tape(at.Y))
		}
		d.Label("dimtext", v.At(at), name, svg.Around(17, 4))
		d.Key = append(d.Key, svg.KeyEntry{Letter: name, Text: text})
	}
}

// tapeStop is a distance from a wall that one or several subwoofers have.
type tapeStop struct {
	metres float64
	at     []r3.Vec
}

// tapeStops returns the distances of a plan's subwoofers along one axis, the shortest
// first; those within 5 mm are one.
func tapeStops(p *subwoofer.Plan, of func(r3.Vec) float64) []tapeStop {
	var stops []tapeStop
	for _, s := range p.Units {
		at := s.Place.Driver
		i := slices.IndexFunc(stops, func(t tapeStop) bool { return math.Abs(t.metres-of(at)) < 0.005 })
		if i < 0 {
			stops = append(stops, tapeStop{metres: of(at)})
			i = len(stops) - 1
		}
		stops[i].at = append(stops[i].at, at)
	}
	slices.SortStableFunc(stops, func(a, b tapeStop) int { return cmp.Compare(a.metres, b.metres) })
	return stops
}

// drawTape draws a row below the room for each distance from the left wall, and a column
// right of it for each from the front wall.
func (m *Report) drawTape(d *svg.Drawing, across, along []tapeStop, v svg.View) {
	edge := v.Box(model.Block{Max: m.Project.Room.Size})
	bottom, end := edge.Y+edge.H, edge.X+edge.W
	for i, t := range across {
		y := bottom + tapeRow*(float64(i)+1)
		for _, at := range t.at {
			d.Line("ext", v.At(at), svg.XY(v.At(at).X, y+4))
		}
		d.Across(edge.X, v.At(t.at[0]).X, y, t.metres, svg.After)
	}
	first := end + 22
	if l := m.Result.Layout; math.Abs(l.Left.X-l.Right.X) >= 0.005 {
		first = end + 50
	}
	for i, t := range along {
		x := first + 4 + tapeRow*(float64(i)+1)
		for _, at := range t.at {
			d.Line("ext", v.At(at), svg.XY(x+4, v.At(at).Y))
		}
		d.Upright(edge.Y, v.At(t.at[0]).Y, x, t.metres, svg.After)
	}
}

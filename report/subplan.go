package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/optimize"
)

// Space between two rows of tape distances to subwoofers on the plan.
const tapeRow = 24.0

// newPlan draws the room from above with the pair, every seat that counts and the
// subwoofers of a plan, all with tape distances.
func (m *SubReport) newPlan(p *optimize.SubPlan) *drawing {
	size, l := m.Project.Room.Size, m.Result.Layout
	across, along := tapeStops(p, func(v r3.Vec) float64 { return v.Y }), tapeStops(p, func(v r3.Vec) float64 { return v.X })
	v := view{origin: xy(marginSide, marginTop), scale: min(roomWidth/size.Y, planHeight/size.X)}
	right := marginSide + tapeRow*float64(len(along))
	if math.Abs(l.Left.X-l.Right.X) >= 0.005 {
		right += tapeRow
	}
	below := tapeRow * float64(len(across))
	d := &drawing{
		ID: "subs-plan", Title: "Plan of the room with " + counted(len(p.Subs)), Desc: m.planDesc(p),
		Width: px(size.Y*v.scale + marginSide + right), Height: px(size.X*v.scale + marginTop + marginBottom + below), style: m.Style,
	}
	m.keepSubwooferMarks(d, p, v)
	d.rect("floor", v.box(model.Block{Max: size}))
	d.things(m.Project, v)
	d.treatments(m.Project, v)
	d.planWalls(&m.Project.Room, v)
	d.openings(m.Project, v)
	m.drawSubwoofers(d, p, v)
	d.layout(l, [3]float64{}, &m.Project.Speakers, v)
	pair := marks(l)
	for _, k := range pair[:2] {
		d.label("dimtext", v.at(k.at), k.short, beside(1)) // and left and up from here
	}
	m.drawSeats(d, p, v)
	d.planTape(l, size, v)
	m.drawTape(d, across, along, v)
	d.planFoot(size, v, below)
	d.sortKey()
	return d
}

// keepSubwooferMarks lets every mark claim its space before any letter does.
func (m *SubReport) keepSubwooferMarks(d *drawing, p *optimize.SubPlan, v view) {
	keep := func(at r3.Vec) {
		c := v.at(at)
		d.keep(rectAt(c.x-6, c.y-6, 12, 12))
	}
	for _, k := range marks(m.Result.Layout) {
		keep(k.at)
	}
	for _, s := range p.Subs {
		keep(s.Perch.Driver)
	}
	for i := range p.Seats {
		keep(p.Seats[i].At)
	}
}

// planDesc tells in words what the plan shows.
func (m *SubReport) planDesc(p *optimize.SubPlan) string {
	s, size := m.Style, m.Project.Room.Size
	text := fmt.Sprintf("The room is %s long and %s wide; the front wall is at the top. ", s.Length(size.X), s.Length(size.Y))
	tell := func(name string, at r3.Vec) {
		text += fmt.Sprintf("The %s is %s from the front wall and %s from the left wall. ", name, s.Tape(at.X), s.Tape(at.Y))
	}
	pair := marks(m.Result.Layout)
	for _, k := range pair[:2] {
		tell(k.name, k.at)
	}
	for i := range p.Seats {
		tell("middle between the ears at "+m.seat(i), p.Seats[i].At)
	}
	for i, sub := range p.Subs {
		tell(fmt.Sprintf("middle of subwoofer %d", i+1), sub.Perch.Driver)
	}
	return text
}

// drawSubwoofers draws the subwoofers of a plan with their names, and dashed those that stand
// already.
func (m *SubReport) drawSubwoofers(d *drawing, p *optimize.SubPlan, v view) {
	s := m.Project.Subwoofers
	for _, at := range s.Placed {
		d.rect("now", v.box(s.Cabinet(m.Project.PerchAt(at))))
		d.label("nowtext", v.at(at), "now", around(15, 4))
	}
	for i, sub := range p.Subs {
		d.rect("sub", v.box(s.Cabinet(sub.Perch)))
		at := v.at(sub.Perch.Driver)
		d.circle("mark", at, 2.6)
		d.label("subtext", at, subMark(i), beside(-1)) // tape goes right and down from here
	}
	if len(p.Subs) > 0 {
		d.Key = append(d.Key, keyEntry{Letter: "S1, S2, ...", Text: "the subwoofers"})
	}
}

// beside returns offsets for a name beside a mark, the first right and below it for 1, left
// and above it for -1.
func beside(sign float64) []point {
	return append([]point{xy(12*sign, 10*sign), xy(12*sign, 16*sign)}, around(13, 4)...)
}

// drawSeats draws the further seats, and names all if there are several.
func (m *SubReport) drawSeats(d *drawing, p *optimize.SubPlan, v view) {
	if len(p.Seats) < 2 {
		return
	}
	for i := range p.Seats {
		at, name, text := p.Seats[i].At, fmt.Sprintf("H%d", i+1), m.seat(i)
		if i > 0 {
			d.circle("head", v.at(at), 0.1*v.scale)
			d.circle("mark", v.at(at), 2.6)
			text += fmt.Sprintf(" (%s from the front wall, %s from the left wall)", m.Style.Tape(at.X), m.Style.Tape(at.Y))
		}
		d.label("dimtext", v.at(at), name, around(17, 4))
		d.Key = append(d.Key, keyEntry{Letter: name, Text: text})
	}
}

// tapeStop is a distance from a wall that one or several subwoofers have.
type tapeStop struct {
	metres float64
	at     []r3.Vec
}

// tapeStops returns the distances of a plan's subwoofers along one axis, the shortest
// first; those within 5 mm are one.
func tapeStops(p *optimize.SubPlan, of func(r3.Vec) float64) []tapeStop {
	var stops []tapeStop
	for _, s := range p.Subs {
		at := s.Perch.Driver
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
func (m *SubReport) drawTape(d *drawing, across, along []tapeStop, v view) {
	edge := v.box(model.Block{Max: m.Project.Room.Size})
	bottom, end := edge.y+edge.h, edge.x+edge.w
	for i, t := range across {
		y := bottom + tapeRow*(float64(i)+1)
		for _, at := range t.at {
			d.line("ext", v.at(at), xy(v.at(at).x, y+4))
		}
		d.across(edge.x, v.at(t.at[0]).x, y, t.metres, after)
	}
	first := end + 22
	if l := m.Result.Layout; math.Abs(l.Left.X-l.Right.X) >= 0.005 {
		first = end + 50
	}
	for i, t := range along {
		x := first + 4 + tapeRow*(float64(i)+1)
		for _, at := range t.at {
			d.line("ext", v.at(at), xy(x+4, v.at(at).y))
		}
		d.upright(edge.y, v.at(t.at[0]).y, x, t.metres, after)
	}
}

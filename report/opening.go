package report

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
)

// openings draws doors, windows and holes in the upright walls of the plan.
func (d *drawing) openings(p *model.Project, v view) {
	for i, o := range p.Room.Openings {
		s, ok := p.Room.Stretch(&o)
		if !ok {
			continue
		}
		a, b, inward := onFloor(s.From), onFloor(s.To), onFloor(s.Inward)
		from, to := v.at(a), v.at(b)
		d.line("gap", from, to)
		d.line("opening "+kindClass(o.Kind), from, to)
		if o.Kind == "door" && o.Swing == "inward" {
			d.swing(&p.Room, s, v)
		}
		in := v.at(r3.Add(r3.Scale(0.5, r3.Add(a, b)), r3.Scale(0.14, inward)))
		d.letter(openingNumber(p, i), rectAt(in.x-8, in.y-8, 16, 16), openingKey(p, i))
	}
}

// openingKey is what the key of a drawing says of opening i.
func openingKey(p *model.Project, i int) string {
	o := &p.Room.Openings[i]
	text := printable(openingName(*o) + " in the " + p.Room.OpeningWall(o))
	if o.Kind == "door" && o.Swing == "outward" {
		text += ", which opens outward"
	}
	return text
}

// onFloor returns a place on plan in the room.
func onFloor(v r2.Vec) r3.Vec { return r3.Vec{X: v.X, Y: v.Y} }

// openingNumber is the number of opening i among all things with a letter.
func openingNumber(p *model.Project, i int) int {
	return len(p.Room.Blocks) + len(p.KeepClear) + i
}

// kindClass names the style of an opening's line.
func kindClass(kind string) string {
	switch kind {
	case "door", "window":
		return kind
	}
	return "hole"
}

// swing draws a door leaf open by a quarter and the arc it sweeps. The hinge is
// taken to be at the end nearer to a corner of the room.
func (d *drawing) swing(r *model.Room, s model.Stretch, v view) {
	hinge, free, inward := s.From, s.To, s.Inward
	if toCorner(r, hinge) > toCorner(r, free)+1e-9 {
		hinge, free = free, hinge
	}
	leaf := r2.Add(hinge, r2.Scale(s.Length(), inward))
	h, f, l := v.at(onFloor(hinge)), v.at(onFloor(free)), v.at(onFloor(leaf))
	d.line("leaf", h, l)
	radius := math.Hypot(l.x-h.x, l.y-h.y)
	sweep := "0"
	if (f.x-h.x)*(l.y-h.y)-(f.y-h.y)*(l.x-h.x) > 0 {
		sweep = "1"
	}
	d.path("arc", "M", f, "A", radius, radius, " 0 0 "+sweep, l)
}

// toCorner returns how far it is from a place on plan to the nearest corner, m.
func toCorner(r *model.Room, v r2.Vec) float64 {
	best := math.Inf(1)
	for _, c := range r.Plan() {
		best = min(best, r2.Norm(r2.Sub(c, v)))
	}
	return best
}

package svg

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/report/text"
)

// Openings draws doors, windows and holes in the upright walls of the plan.
func (d *Drawing) Openings(p *model.Project, v View) {
	for i, o := range p.Room.Openings {
		s, ok := p.Room.Stretch(&o)
		if !ok {
			continue
		}
		a, b, inward := onFloor(s.From), onFloor(s.To), onFloor(s.Inward)
		from, to := v.At(a), v.At(b)
		d.Line("gap", from, to)
		d.Line("opening "+KindClass(o.Kind), from, to)
		if o.Kind == "door" && o.Swing == "inward" {
			d.swing(&p.Room, s, v)
		}
		in := v.At(r3.Add(r3.Scale(0.5, r3.Add(a, b)), r3.Scale(0.14, inward)))
		d.Letter(OpeningNumber(p, i), RectAt(in.X-8, in.Y-8, 16, 16), OpeningKey(p, i))
	}
}

// OpeningKey is what the key of a drawing says of opening i.
func OpeningKey(p *model.Project, i int) string {
	o := &p.Room.Openings[i]
	text := text.Printable(text.OpeningName(*o) + " in the " + p.Room.OpeningWall(o))
	if o.Kind == "door" && o.Swing == "outward" {
		text += ", which opens outward"
	}
	return text
}

// onFloor returns a place on plan in the room.
func onFloor(v r2.Vec) r3.Vec { return r3.Vec{X: v.X, Y: v.Y} }

// OpeningNumber is the number of opening i among all things with a letter.
func OpeningNumber(p *model.Project, i int) int {
	return len(p.Room.Blocks) + len(p.KeepClear) + i
}

// KindClass names the style of an opening's line.
func KindClass(kind string) string {
	switch kind {
	case "door", "window":
		return kind
	}
	return "hole"
}

// swing draws a door leaf open by a quarter and the arc it sweeps. The hinge is
// assumed at the end nearer to a corner of the room.
func (d *Drawing) swing(r *model.Room, s model.Stretch, v View) {
	hinge, free, inward := s.From, s.To, s.Inward
	if toCorner(r, hinge) > toCorner(r, free)+1e-9 {
		hinge, free = free, hinge
	}
	leaf := r2.Add(hinge, r2.Scale(s.Length(), inward))
	h, f, l := v.At(onFloor(hinge)), v.At(onFloor(free)), v.At(onFloor(leaf))
	d.Line("leaf", h, l)
	radius := math.Hypot(l.X-h.X, l.Y-h.Y)
	sweep := "0"
	if (f.X-h.X)*(l.Y-h.Y)-(f.Y-h.Y)*(l.X-h.X) > 0 {
		sweep = "1"
	}
	d.Path("arc", "M", f, "A", radius, radius, " 0 0 "+sweep, l)
}

// toCorner returns the distance from a place on plan to the nearest corner, m.
func toCorner(r *model.Room, v r2.Vec) float64 {
	best := math.Inf(1)
	for _, c := range r.Plan() {
		best = min(best, r2.Norm(r2.Sub(c, v)))
	}
	return best
}

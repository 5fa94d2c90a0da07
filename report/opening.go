package report

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
)

// openings draws doors, windows and holes in the upright walls of the plan.
func (d *drawing) openings(p *model.Project, v view) {
	for i, o := range p.Room.Openings {
		a, b, inward, ok := footprint(o.Patch, p.Room.Size)
		if !ok {
			continue
		}
		from, to := v.at(a), v.at(b)
		d.line("gap", from, to)
		d.line("opening "+kindClass(o.Kind), from, to)
		if o.Kind == "door" && (o.Swing == "inward" || o.Swing == "outward") {
			d.swing(o, a, b, inward, p.Room.Size, v)
		}
		in := v.at(r3.Add(r3.Scale(0.5, r3.Add(a, b)), r3.Scale(0.14, inward)))
		d.letter(openingNumber(p, i), rectangle{in.x - 8, in.y - 8, 16, 16}, printable(openingName(o))+" in the "+o.Patch.Face.Wall())
	}
}

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

// footprint returns the ends of an upright wall's patch on the floor plan and the
// direction into the room; ok is false for floor and ceiling.
func footprint(patch model.Patch, size r3.Vec) (a, b, inward r3.Vec, ok bool) {
	face := patch.Face
	from, to := patch.Along, patch.Along+patch.Width
	switch face.Axis() {
	case 0:
		a, b, inward = r3.Vec{Y: from}, r3.Vec{Y: to}, r3.Vec{X: 1}
		if face.Far() {
			a.X, b.X, inward.X = size.X, size.X, -1
		}
	case 1:
		a, b, inward = r3.Vec{X: from}, r3.Vec{X: to}, r3.Vec{Y: 1}
		if face.Far() {
			a.Y, b.Y, inward.Y = size.Y, size.Y, -1
		}
	default:
		return a, b, inward, false
	}
	return a, b, inward, true
}

// swing draws a door leaf open by a quarter and the arc it sweeps. The hinge is
// taken to be at the end nearer to a corner of the room.
func (d *drawing) swing(o model.Opening, a, b, inward, size r3.Vec, v view) {
	along, _ := (&model.Room{Size: size}).Extent(o.Patch.Face)
	hinge, free := a, b
	if o.Patch.Along > along-o.Patch.Along-o.Patch.Width {
		hinge, free = b, a
	}
	if o.Swing == "outward" {
		inward = r3.Scale(-1, inward)
	}
	leaf := r3.Add(hinge, r3.Scale(o.Patch.Width, inward))
	h, f, l := v.at(hinge), v.at(free), v.at(leaf)
	d.line("leaf", h, l)
	radius := math.Hypot(l.x-h.x, l.y-h.y)
	sweep := "0"
	if (f.x-h.x)*(l.y-h.y)-(f.y-h.y)*(l.x-h.x) > 0 {
		sweep = "1"
	}
	d.path("arc", "M", f, "A", radius, radius, " 0 0 "+sweep, l)
}

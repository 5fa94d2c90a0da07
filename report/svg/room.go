package svg

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/report/text"
)

// Space around the room in both drawings, for the tape distances.
const (
	MarginSide   = 68.0
	MarginTop    = 62.0
	MarginBottom = 72.0
	RoomWidth    = 344.0 // greatest width of the room in a drawing
	PlanHeight   = 520.0 // greatest height of the room on the plan
	SideHeight   = 260.0 // and in the side view
	NarrowWidth  = 178.0 // greatest width of the room in a drawing for a phone
)

// Width returns the greatest width of a room in a drawing of a form.
func (f Form) Width() float64 {
	if f == Wide {
		return RoomWidth
	}
	return NarrowWidth
}

// Name returns the id of a drawing in a form: the wide one has the name alone.
func (f Form) Name(name string) string { return name + [...]string{"", "-narrow", "-small"}[f] }

// RoomContents draws what stands in the room and what is kept clear.
func (d *Drawing) RoomContents(p *model.Project, v View) {
	for _, b := range p.Room.Blocks {
		d.Rect("block", v.Box(b))
	}
	for _, b := range p.KeepClear {
		d.Rect("clear", v.Box(b))
	}
	for i, b := range p.Room.Blocks {
		d.Letter(i, v.Box(b), blockKey(b, ""))
	}
	for i, b := range p.KeepClear {
		d.Letter(len(p.Room.Blocks)+i, v.Box(b), blockKey(b, " (kept clear)"))
	}
}

// blockKey is what the key of a drawing says of a block: of furniture what it is, else its name and a note.
func blockKey(b model.Block, note string) string {
	if b.Kind != 0 {
		return text.FurnitureTitle(b)
	}
	return text.Printable(b.Name) + note
}

func (d *Drawing) Cabinets(class string, l model.Layout, s *model.Speakers, v View) {
	for _, at := range []r3.Vec{l.Left, l.Right} {
		if s.Box == (model.Dimensions{}) {
			d.Circle(class, v.At(at), 4)
			continue
		}
		d.Rect(class, v.Box(s.Cabinet(at)))
	}
}

// Layout draws a layout: boxes, woofers, ears, and a circle that shows how far in m each
// may be off its mark; 0 draws none.
func (d *Drawing) Layout(l model.Layout, off [3]float64, s *model.Speakers, v View) {
	d.Cabinets("cabinet", l, s, v)
	for i, m := range Marks(l) {
		if off[i] > 0 && !v.Side {
			d.Circle("tolerance", v.At(m.At), off[i]*v.Scale)
		}
	}
	head := v.At(l.Seat)
	r := 0.1 * v.Scale
	if !v.Side {
		d.Path("head", "M", XY(head.X-r/2, head.Y-r*0.8), "L", XY(head.X, head.Y-r*1.6), "L", XY(head.X+r/2, head.Y-r*0.8))
	} else {
		d.Path("head", "M", XY(head.X-r*0.8, head.Y-r/2), "L", XY(head.X-r*1.6, head.Y), "L", XY(head.X-r*0.8, head.Y+r/2))
	}
	d.Circle("head", head, r)
	for _, m := range Marks(l) {
		d.Circle("mark", v.At(m.At), 2.6)
	}
}

// Seats draws the seats beside the main one, each with its name.
func (d *Drawing) Seats(seats []model.Seat, v View) {
	for _, s := range seats {
		if !s.Placed {
			continue
		}
		at := v.At(s.At)
		r := 0.1 * v.Scale
		d.Circle("otherseat", at, r)
		d.Circle("mark", at, 2)
		d.Keep(RectAt(at.X-r, at.Y-r, 2*r, 2*r))
		d.Label("seattext", at, text.Shortened(text.Printable(s.Name), seatName), Around(r+8, 4))
	}
}

// seatName is how many columns of a seat's name fit on a plan.
const seatName = 14

// PlanTape draws the tape distances from the walls to every mark.
func (d *Drawing) PlanTape(l model.Layout, size r3.Vec, v View) {
	left, right, head := v.At(l.Left), v.At(l.Right), v.At(l.Seat)
	edge := v.Box(model.Block{Max: size})
	top, bottom, end := edge.Y, edge.Y+edge.H, edge.X+edge.W
	for _, p := range []Point{left, right} {
		d.Line("ext", XY(p.X, top-18), p)
	}
	d.Line("ext", XY(edge.X-20, left.Y), left)
	d.Line("ext", XY(head.X, top-42), head)
	d.Line("ext", XY(end+20, head.Y), head)

	d.Across(edge.X, left.X, top-14, l.Left.Y, Before)
	beyond := d.Style.Rest(size.Y, l.Right.Y)
	d.Across(left.X, right.X, top-14, d.Style.Rest(size.Y, l.Left.Y, beyond), Under)
	d.Across(right.X, end, top-14, beyond, After)
	d.Across(edge.X, head.X, top-38, l.Seat.Y, Before)
	d.Across(head.X, end, top-38, d.Style.Rest(size.Y, l.Seat.Y), After)
	d.Upright(top, left.Y, edge.X-16, l.Left.X, After)
	d.Upright(top, bottom, edge.X-42, size.X, Before)
	d.Upright(top, head.Y, end+22, l.Seat.X, Under)
	d.Upright(head.Y, bottom, end+22, d.Style.Rest(size.X, l.Seat.X), After)
	if math.Abs(l.Left.X-l.Right.X) >= 0.005 {
		d.Line("ext", XY(end+50, right.Y), right)
		d.Upright(top, right.Y, end+50, l.Right.X, After)
	}
	d.Text("walltext", XY((edge.X+end)/2, top-56), "front wall")
}

// PlanFoot draws the room's width and the scale, so far below the room.
func (d *Drawing) PlanFoot(size r3.Vec, v View, below float64) {
	edge := v.Box(model.Block{Max: size})
	bottom := edge.Y + edge.H + below
	d.Across(edge.X, edge.X+edge.W, bottom+24, size.Y, Before)
	d.ScaleBar(XY(edge.X, bottom+42), v.Scale)
}

package model

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Facing returns the project for a listener who faces one of the four upright walls:
// the same room with everything in it, turned so that this wall is its front wall. What
// the project says of the listener alone, such as the distance from the seat to the
// wall behind it, stays as it is. The project itself is left alone. It panics for the
// floor and the ceiling.
func (p *Project) Facing(wall Face) *Project {
	out := *p
	for range turnsTo(wall) {
		out = *out.quarter()
	}
	return &out
}

// FromFacing returns a place of the project that faces a wall in the coordinates of
// this one.
func (p *Project) FromFacing(wall Face, at r3.Vec) r3.Vec {
	n := turnsTo(wall)
	lengths := [2]float64{p.Room.Size.X, p.Room.Size.Y} // by turns made
	for ; n%4 != 0; n++ {                               // the rest of a whole turn
		at = quarterTurn{lengths[n%2]}.place(at)
	}
	return at
}

// turnsTo returns how many quarter turns make a wall the front wall.
func turnsTo(wall Face) int {
	switch wall {
	case Front:
		return 0
	case Left:
		return 1
	case Back:
		return 2
	case Right:
		return 3
	}
	panic("model: nobody faces the " + wall.Wall())
}

// quarterTurn makes the left wall the front wall: what was y from the left wall is x,
// and what was x is counted from the other end. The length is that of the room before.
type quarterTurn struct{ length float64 }

// rest returns what a distance leaves of the length.
func (q quarterTurn) rest(m float64) float64 { return CleanLength(q.length - m) }

func (q quarterTurn) place(v r3.Vec) r3.Vec { return r3.Vec{X: v.Y, Y: q.rest(v.X), Z: v.Z} }

func (q quarterTurn) plan(v r2.Vec) r2.Vec { return r2.Vec{X: v.Y, Y: q.rest(v.X)} }

func (q quarterTurn) size(v r3.Vec) r3.Vec { return r3.Vec{X: v.Y, Y: v.X, Z: v.Z} }

func (q quarterTurn) face(f Face) Face {
	return [6]Face{Front: Right, Back: Left, Left: Front, Right: Back, Floor: Floor, Ceiling: Ceiling}[f]
}

func (q quarterTurn) block(b Block) Block {
	u, v := q.place(b.Min), q.place(b.Max)
	b.Min, b.Max = r3.Vec{X: u.X, Y: v.Y, Z: u.Z}, r3.Vec{X: v.X, Y: u.Y, Z: v.Z}
	return b
}

// along turns a range along the length, which is counted from the other end then.
func (q quarterTurn) along(r Range) Range {
	if !r.Given() {
		return r
	}
	return Range{q.rest(r.Max), q.rest(r.Min)}
}

func (q quarterTurn) zone(z Zone) Zone { return Zone{X: z.Y, Y: q.along(z.X)} }

func (q quarterTurn) patch(p Patch) Patch {
	switch p.Face {
	case Floor, Ceiling:
		p.Along, p.Up = p.Up, q.rest(p.Along+p.Width)
		p.Width, p.Height = p.Height, p.Width
	case Left, Right:
		p.Along = q.rest(p.Along + p.Width)
	}
	p.Face = q.face(p.Face)
	return p
}

func (q quarterTurn) corner(c Corner) Corner {
	if c.Axis() == 0 {
		r := q.along(Range{c.From, c.To})
		c.From, c.To = r.Min, r.Max
	}
	c.Walls = [2]Face{q.face(c.Walls[0]), q.face(c.Walls[1])}
	return c
}

// treatment turns a piece; the layers of a free one run away from the origin, which is
// at the other end of what was the length.
func (q quarterTurn) treatment(t Treatment) Treatment {
	if t.Form == FreeStanding && t.Box.Thin() == 0 {
		t.Layers = slices.Clone(t.Layers)
		slices.Reverse(t.Layers)
	}
	switch t.Form {
	case OnWall:
		t.Patch = q.patch(t.Patch)
	case InCorner:
		t.Corner = q.corner(t.Corner)
	default:
		t.Box = q.block(t.Box)
	}
	return t
}

// each returns a slice of the same length with every element changed; nil stays nil.
func each[T any](list []T, change func(T) T) []T {
	if list == nil {
		return nil
	}
	out := make([]T, len(list))
	for i, v := range list {
		out[i] = change(v)
	}
	return out
}

// quarter returns the project turned once.
func (p *Project) quarter() *Project {
	q := quarterTurn{p.Room.Size.X}
	out := *p
	out.Room = q.room(p.Room)
	s := &out.Speakers
	s.Left, s.Right, s.Zones = q.marked(s.Placed, s.Left), q.marked(s.Placed, s.Right), each(s.Zones, q.zone)
	out.Seats = each(p.Seats, func(s Seat) Seat {
		s.At, s.Zones = q.marked(s.Placed, s.At), each(s.Zones, q.zone)
		return s
	})
	out.KeepClear, out.Options = each(p.KeepClear, q.block), each(p.Options, q.option)
	if p.Stock != nil {
		out.Stock = q.stock(*p.Stock)
	}
	if p.Subwoofers != nil {
		w := *p.Subwoofers
		w.Zones, w.Placed = each(w.Zones, q.zone), each(w.Placed, q.place)
		out.Subwoofers = &w
	}
	return &out
}

// option turns what an option moves, adds and makes of the walls. What is put before a piece has no
// place of its own.
func (q quarterTurn) option(o Option) Option {
	o.Move, o.Add = each(o.Move, q.treatment), each(o.Add, q.treatment)
	if o.Walls != nil {
		walls := make(map[Face]Surface, len(o.Walls))
		for f, s := range o.Walls {
			walls[q.face(f)] = s
		}
		o.Walls = walls
	}
	return o
}

// marked turns a place that means something.
func (q quarterTurn) marked(placed bool, at r3.Vec) r3.Vec {
	if !placed {
		return at
	}
	return q.place(at)
}

func (q quarterTurn) room(r Room) Room {
	walls := r.Walls
	for _, f := range Faces {
		r.Walls[q.face(f)] = walls[f]
	}
	r.Size = q.size(r.Size)
	r.Outer = each(r.Outer, q.face)
	r.Calibration = q.calibration(r.Calibration)
	r.Outline = each(r.Outline, q.plan)
	r.Slopes = each(r.Slopes, func(s Slope) Slope {
		for i, v := range s.Through {
			s.Through[i] = q.place(v)
		}
		return s
	})
	r.Openings = each(r.Openings, func(o Opening) Opening {
		if o.Edge == 0 {
			o.Patch = q.patch(o.Patch)
		} else if o.Edge <= len(r.Outline) { // which counts along its edge as before
			o.Patch.Face = r.EdgeFace(o.Edge - 1)
		}
		return o
	})
	r.Blocks, r.Treatments = each(r.Blocks, q.block), each(r.Treatments, q.treatment)
	return r
}

func (q quarterTurn) stock(s Stock) *Stock {
	s.Cover = each(s.Cover, func(c Cover) Cover { c.Patch = q.patch(c.Patch); return c })
	s.Free = each(s.Free, func(k Keep) Keep {
		if k.OnWall {
			k.Patch = q.patch(k.Patch)
		} else {
			k.Block = q.block(k.Block)
		}
		return k
	})
	return &s
}

package model

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// built checks what is part of the room: openings, blocks, treatments. It relies
// on the room's size.
func (v *validator) built() {
	r := &v.p.Room
	for i := range r.Openings {
		v.opening(i)
	}
	var solid float64
	for i, b := range r.Blocks {
		path := b.path("blocks", i)
		if v.block(path, b) {
			d := r3.Sub(b.Max, b.Min)
			if solid += d.X * d.Y * d.Z; solid > 0.8*r.Volume() {
				v.fail(path, "fills more than four fifths of the room; blocks are solid")
			}
		}
	}
	for i, b := range v.p.KeepClear {
		path := b.path("keep_clear", i)
		v.block(path, b)
		v.reach(path, b.Reach)
	}
	for i := range r.Treatments {
		v.treatment(i)
		if len(v.problems) == 0 {
			v.collisions(i, r.Treatments[i].Box.path("treatments", i))
		}
	}
	if len(v.problems) == 0 {
		v.furniture()
	}
}

// reach checks how a box that is kept clear may move.
func (v *validator) reach(path string, r Reach) {
	switch p := v.p; {
	case r.With != Untied && r.Along > 0:
		v.fail(path+".may_move", "must be left out where moves_with says where it goes")
	case r.With == WithSpeakers && !p.Speakers.Placed:
		v.fail(path+".moves_with", "needs places for the speakers today: write speakers.now")
	case r.With == WithSeat && (len(p.Seats) == 0 || !p.Seats[0].Placed):
		v.fail(path+".moves_with", "needs a place for the first seat today: write its at")
	}
	v.inRange(path+".may_move", r.Along, 0, LargestSide, "m")
}

func (v *validator) opening(i int) {
	r := &v.p.Room
	o, path := r.Openings[i], fmt.Sprintf("openings[%d]", i)
	if o.Patch.Face < Front || o.Patch.Face > Ceiling {
		v.fail(path+".wall", "must be one of the six walls, have %v", o.Patch.Face)
		return
	}
	switch {
	case o.Kind != "door" && o.Kind != "window" && o.Kind != "hole":
		v.fail(path+".kind", "must be door, window or hole, have %q", o.Kind)
	case o.Kind == "door" && o.Patch.Face.Axis() == 2:
		v.fail(path+".wall", "must be an upright wall for a door, have the %s", o.Patch.Face)
	case o.Surface.Set():
		v.surface(path, o.Surface)
	case o.Kind != "hole":
		v.fail(path, "must have a construction, an impedance or an absorption table for the %s", o.Kind)
	}
	along, up := r.openingExtent(&o)
	if v.extent(path, o.Patch, r.OpeningWall(&o), along, up) {
		v.openingPlace(i, path)
	}
}

// patch checks that a rectangle has a size and is inside its wall.
func (v *validator) patch(path string, p Patch) bool {
	if p.Face < Front || p.Face > Ceiling {
		v.fail(path+".wall", "must be one of the six walls, have %v", p.Face)
		return false
	}
	along, up := v.p.Room.Extent(p.Face)
	return v.extent(path, p, p.Face.Wall(), along, up)
}

// extent checks that a rectangle has a size and is inside a wall of the given length and
// height in m.
func (v *validator) extent(path string, p Patch, wall string, along, up float64) bool {
	before := len(v.problems)
	for _, d := range []struct {
		start, size        string
		from, extent, wall float64
	}{{"from", "width", p.Along, p.Width, along}, {"sill", "height", p.Up, p.Height, up}} {
		switch {
		case !(d.extent > 0):
			v.fail(path+"."+d.size, "must be above 0, have %.6g m", d.extent)
		case !(d.from >= -slack):
			v.fail(path+"."+d.start, "must be 0 or more, have %.6g m", d.from)
		case !(d.from+d.extent <= d.wall+slack):
			v.fail(path+"."+d.size, "must end inside the %s, which is %.4g m there: %.6g m + %.6g m is %.6g m", wall, d.wall, d.from, d.extent, d.from+d.extent)
		}
	}
	return len(v.problems) == before
}

// block checks that a box has a size and is inside the room.
func (v *validator) block(path string, b Block) bool {
	for _, d := range []struct {
		axis     string
		min, max float64
	}{{"x", b.Min.X, b.Max.X}, {"y", b.Min.Y, b.Max.Y}, {"z", b.Min.Z, b.Max.Z}} {
		if !(d.max > d.min) && !(d.axis == "z" && b.Kind == Rug) {
			v.fail(path+".to", "must be beyond from in %s, have %.6g m after %.6g m", d.axis, d.max, d.min)
			return false
		}
	}
	if out := v.p.Room.outsideBy(b); out != "" {
		v.fail(path, "must be inside the room, reaches %s", out)
		return false
	}
	return true
}

// standing checks where things are now and how high they may be. It relies on the
// room's size.
func (v *validator) standing() {
	r, s := &v.p.Room, &v.p.Speakers
	if s.Placed {
		v.cabinet("speakers.now.left", s.Left)
		v.cabinet("speakers.now.right", s.Right)
		if s.Left.Y >= s.Right.Y {
			hint := "; did you swap left and right?"
			if math.Abs(s.Left.X-s.Right.X) > math.Abs(s.Left.Y-s.Right.Y) {
				hint = "; did you swap x and y? A place is [from the front wall, from the left wall, above the floor]"
			}
			v.fail("speakers.now.left", "must be on the left: y counts from the left wall, have %.6g m and %.6g m%s", s.Left.Y, s.Right.Y, hint)
		}
	}
	for i, h := range s.AxisHeights {
		box := s.Cabinet(r3.Vec{Z: h - s.WooferBelow})
		low, high := min(box.Min.Z, h), max(box.Max.Z, h)
		if !(low >= -slack && high <= r.Size.Z+slack) {
			v.fail(fmt.Sprintf("speakers.axis_height[%d]", i), "must keep the box between floor and ceiling, which are %.6g m apart: it would reach from %.3g m to %.3g m", r.Size.Z, low, high)
		}
	}
	for i, seat := range v.p.Seats {
		path := fmt.Sprintf("seats[%d]", i)
		v.inRange(path+".height", seat.Height, 0, r.Size.Z, "m")
		if seat.Placed {
			if out := r.outsideBy(point(seat.At)); out != "" {
				v.fail(path+".at", "must be inside the room, is %s%s", out, r.swapHint(seat.At))
				continue
			}
			v.inside(path+".at", "", point(seat.At))
		}
	}
}

// cabinet checks that a speaker's box is in the room's air.
func (v *validator) cabinet(path string, at r3.Vec) {
	if out := v.p.Room.outsideBy(point(at)); out != "" {
		v.fail(path, "must be inside the room, is %s%s", out, v.p.Room.swapHint(at))
		return
	}
	v.inside(path, "the box at this place ", v.p.Speakers.Cabinet(at))
}

// inside checks that a thing is in the room's air.
func (v *validator) inside(path, what string, b Block) {
	if out := v.p.Room.outsideBy(b); out != "" {
		v.fail(path, "%smust be inside the room, reaches %s", what, out)
		return
	}
	for _, solid := range v.p.Room.Blocks {
		if b.Overlaps(solid) {
			v.fail(path, "%smust not be inside the block %q", what, solid.Name)
		}
	}
}

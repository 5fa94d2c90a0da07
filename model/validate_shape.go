package model

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// shape checks the outline and the slopes. It relies on the room's size.
func (v *validator) shape() {
	r := &v.p.Room
	if len(r.Outline) > 0 && !v.outline(r.Outline) {
		return
	}
	v.wallNames()
	for i, s := range r.Edges {
		if s.Set() {
			v.surface(fmt.Sprintf("room.outline[%d]", i), s.Surface)
		}
	}
	for i := range r.Slopes {
		v.slope(i)
	}
	if len(v.problems) == 0 && len(r.Slopes) > 0 {
		v.ceiling()
	}
}

// outline checks that the corners make one floor that fills the length and width.
func (v *validator) outline(p Polygon) bool {
	before, size := len(v.problems), v.p.Room.Size
	if len(p) < 3 {
		v.fail("room.outline", "must have at least three corners, have %d", len(p))
		return false
	}
	x, y := Range{math.Inf(1), math.Inf(-1)}, Range{math.Inf(1), math.Inf(-1)}
	for i, c := range p {
		path := fmt.Sprintf("room.outline[%d]", i)
		if !(c.X >= -slack && c.X <= size.X+slack && c.Y >= -slack && c.Y <= size.Y+slack) {
			v.fail(path, "must be within the length of %.6g m and the width of %.6g m, is at %.6g m, %.6g m", size.X, size.Y, c.X, c.Y)
		}
		if from, to := p.Edge(i); r2.Norm(r2.Sub(to, from)) < 0.01 {
			v.fail(path, "must be at least 1 cm from the next corner")
		}
		x, y = Range{min(x.Min, c.X), max(x.Max, c.X)}, Range{min(y.Min, c.Y), max(y.Max, c.Y)}
	}
	if len(v.problems) > before {
		return false
	}
	if i, j, crosses := p.Crossing(); crosses {
		v.fail(fmt.Sprintf("room.outline[%d]", j), "must not meet the line from corner %d to the next: list the corners in order round the room", i+1)
		return false
	}
	if gap := max(x.Min, y.Min, size.X-x.Max, size.Y-y.Max); gap > slack {
		v.fail("room.outline", "must reach from 0 to %.6g m along the room and to %.6g m across, reaches from %.6g to %.6g m and from %.6g to %.6g m",
			size.X, size.Y, x.Min, x.Max, y.Min, y.Max)
		return false
	}
	if area := p.Area(); area < SmallestSide*SmallestSide {
		v.fail("room.outline", "must leave a floor of at least %.3g m², leaves %.3g m²", SmallestSide*SmallestSide, area)
		return false
	}
	return true
}

// wallNames checks that the names of the outline's walls tell them apart.
func (v *validator) wallNames() {
	seen := map[string]int{}
	for i, e := range v.p.Room.Edges {
		path := fmt.Sprintf("room.outline[%d].wall", i)
		_, err := ParseFace(e.Name)
		first, twice := seen[e.Name]
		switch {
		case e.Name == "":
			continue
		case err == nil:
			v.fail(path, "must differ from the names of the six walls, have %q", e.Name)
		case twice:
			v.fail(path, "must be unique; corner %d has %q too", first+1, e.Name)
		}
		seen[e.Name] = i
	}
}

// steepest is the most that a sloped ceiling may rise per metre: 80°.
const steepest = 5.7

func (v *validator) slope(i int) {
	s, path := v.p.Room.Slopes[i], fmt.Sprintf("ceiling.planes[%d]", i)
	if s.Surface.Set() {
		v.surface(path, s.Surface)
	}
	height, rise := s.Plane()
	if !(r2.Norm(rise) <= steepest) || math.IsInf(height, 0) {
		v.fail(path, "must be a plane no steeper than 80°, through three points that are not above one line")
	}
}

// ceiling checks that the slopes leave a room as high as it is said to be.
func (v *validator) ceiling() {
	r := &v.p.Room
	plan := r.Plan()
	for _, c := range plan {
		if z := r.CeilingAt(c); z < -slack {
			v.fail("ceiling", "must not be below the floor, is %.3g m below it at %.6g m, %.6g m", -z, c.X, c.Y)
			return
		}
	}
	if top := r.highest(plan); top < r.Size.Z-0.005 {
		v.fail("room.height", "must match the highest place under the slopes, %.4g m, have %.6g m", top, r.Size.Z)
		return
	}
	i := 0
	r.ceilings(plan, func(_ plane, part Polygon) {
		if i < len(r.Slopes) && part.Area() < slack {
			v.fail(fmt.Sprintf("ceiling.planes[%d]", i), "must come below the rest of the ceiling somewhere; leave it out, or check its heights")
		}
		i++
	})
}

// onWall checks that there is a wall behind a patch: that an outline leaves it there.
func (v *validator) onWall(path string, p Patch) bool {
	r := &v.p.Room
	if r.Plain() || p.Area() <= 0 {
		return true
	}
	if p.Face.Axis() == 2 {
		if free := r.Plan().Window(Range{p.Along, p.Along + p.Width}, Range{p.Up, p.Up + p.Height}).Area(); free < p.Area()-0.01 {
			v.fail(path, "must be within the outline, is outside it by %.3g m²", p.Area()-free)
			return false
		}
		return true
	}
	if !r.walled(p, r.side(p.Face)) {
		v.fail(path, "must be on a part of the %s that the outline leaves there; before a wall that stands further in, write form: panel with from and to", p.Face.Wall())
		return false
	}
	return true
}

// underSlope checks that a sloped ceiling leaves a piece of layers on an upright wall.
func (v *validator) underSlope(path string, t *Treatment) {
	r, p := &v.p.Room, t.Patch
	if p.Area() <= 0 || r.TrimmedFace(t) != nil {
		return
	}
	cure := "move it to where the slope is higher"
	for lower := *t; lower.Patch.Up > 0; { // centimetre by centimetre
		lower.Patch.Up = math.Ceil(100*lower.Patch.Up-1-1e-6) / 100
		lower.Patch.Height = p.Up + p.Height - lower.Patch.Up
		if r.TrimmedFace(&lower) != nil {
			cure = fmt.Sprintf("write sill: %.4g m or less, or %s", lower.Patch.Up, cure)
			break
		}
	}
	v.fail(path, "must leave at least %.2g m by %.2g m below the sloped ceiling, which trims it; %s", LeastTrimmed, LeastTrimmed, cure)
}

// walled reports whether all of an upright patch has a wall of the outline behind it that
// faces like it and stands at a place on the axis across.
func (r *Room) walled(p Patch, at float64) bool {
	plan := r.Plan()
	left := p.Width
	for i := range plan {
		from, to := plan.Edge(i)
		if p.Face.Axis() == 1 {
			from, to = r2.Vec{X: from.Y, Y: from.X}, r2.Vec{X: to.Y, Y: to.X}
		}
		if math.Abs(from.X-at) < slack && math.Abs(to.X-at) < slack && r.EdgeFace(i) == p.Face {
			low, high := min(from.Y, to.Y), max(from.Y, to.Y)
			left -= max(0, min(high, p.Along+p.Width)-max(low, p.Along))
		}
	}
	return left < 0.005
}

// zoneInside checks that some of a zone is inside the outline and high enough for what is
// to be there; needs says what needs the height.
func (v *validator) zoneInside(path string, z Zone, tall float64, needs string) {
	r := &v.p.Room
	if r.Plain() {
		return
	}
	all := Zone{Range{0, r.Size.X}, Range{0, r.Size.Y}}
	x, y := overlap(z.X, all.X), overlap(z.Y, all.Y)
	const strip = 1e-4 // zones may be lines
	part := r.Plan().Window(Range{x.Min - strip, x.Max + strip}, Range{y.Min - strip, y.Max + strip})
	switch top := r.highest(part); {
	case part.Area() < strip*strip:
		v.fail(path, "must be inside the outline at least in part")
	case top < tall:
		v.fail(path, "must have a place where the ceiling is high enough: %s %.3g m, and the ceiling reaches %.3g m here", needs, tall, top)
	}
}

package model

import (
	"fmt"
	"math"
)

// treatment checks one piece. It relies on the room's size and shape.
func (v *validator) treatment(i int) {
	t, path := &v.p.Room.Treatments[i], v.p.Room.Treatments[i].Box.path("treatments", i)
	v.layers(path, t)
	switch t.Form {
	case OnWall:
		v.onWallForm(path, t)
	case InCorner:
		v.corner(path, t)
	case UnderCeiling:
		v.cloud(path, t)
	case FreeStanding:
		v.panel(path, t)
	default:
		v.fail(path+".form", "must be layer, corner, cloud or panel, have %v", t.Form)
	}
}

func (v *validator) layers(path string, t *Treatment) {
	if len(t.Layers) == 0 {
		v.fail(path+".layers", "must have at least one layer")
	}
	for j, l := range t.Layers {
		at := fmt.Sprintf("%s.layers[%d]", path, j)
		bySheet := l.Thickness == 0 && (l.SurfaceMass > 0 || l.Material != "")
		fills := t.Form == InCorner && j == len(t.Layers)-1 || t.Form < OnWall
		if !(l.Thickness > 0) && !bySheet && !fills {
			v.fail(at, "must have a thickness above 0, have %.6g m", l.Thickness)
		}
	}
}

func (v *validator) onWallForm(path string, t *Treatment) {
	r := &v.p.Room
	if !v.patch(path, t.Patch) {
		return
	}
	if v.onWall(path, t.Patch) {
		v.underSlope(path, t)
	}
	across := [3]float64{r.Size.X, r.Size.Y, r.Size.Z}[t.Patch.Face.Axis()]
	if d := t.Depth(); !(d < across) {
		v.fail(path+".layers", "must be thinner than the room, which is %.6g m there, have %.6g m", across, d)
	}
}

func (v *validator) corner(path string, t *Treatment) {
	r, c := &v.p.Room, t.Corner
	for _, f := range c.Walls {
		if f < Front || f > Ceiling {
			v.fail(path+".edge", "must be two of the six walls, have %v", f)
			return
		}
	}
	if c.Walls[0].Axis() == c.Walls[1].Axis() {
		v.fail(path+".edge", "must be two walls that meet, have %s and %s", c.Walls[0], c.Walls[1])
		return
	}
	size := [3]float64{r.Size.X, r.Size.Y, r.Size.Z}
	most := min(size[c.Walls[0].Axis()], size[c.Walls[1].Axis()])
	if !v.inRange(path+".leg", c.Leg, 0.02, most, "m") {
		return
	}
	length := size[c.Axis()]
	if !(c.From >= -slack) {
		v.fail(path+".from", "must be 0 or more, have %.6g m", c.From)
		return
	}
	if !(c.From < c.To && c.To <= length+slack) {
		v.fail(path+".to", "must be beyond from and at most %.6g m, have %.6g m to %.6g m", length, c.From, c.To)
		return
	}
	if n := len(t.Layers); n > 2 || n == 2 && t.Layers[0].Kind != FilmLayer {
		v.fail(path+".layers", "must be the fill alone, or a film and then the fill")
	} else if n > 0 && t.Layers[n-1].Kind != PorousLayer {
		v.fail(path+".layers", "must end with the fill, a porous material")
	}
	v.cornerThere(path, t)
}

// cornerThere checks that an outline and slopes leave the edge where it is.
func (v *validator) cornerThere(path string, t *Treatment) {
	r, c := &v.p.Room, t.Corner
	if r.Plain() {
		return
	}
	space := r.Space(t)
	if by := r.beyondPlan(space); by > slack {
		v.fail(path, "must be inside the room, reaches %.3g m beyond the outline; before walls that stand further in, wool can be a box: write form: panel with from and to", by)
		return
	}
	low := math.Inf(1) // of the wall, where the ceiling is lowest
	if c.Axis() != 2 {
		for _, at := range r.bends(c) {
			foot, _ := r.edgePlace(c.Upright(), at)
			low = min(low, r.CeilingAt(foot))
		}
	}
	switch {
	case c.Axis() == 2 && space.Max.Z < c.From+thinnest:
		v.fail(path+".from", "must begin below the sloped ceiling, which is at most %.3g m high there, have %.6g m", space.Max.Z, c.From)
	case r.FollowsSlope(c) && c.Leg > low+slack:
		v.fail(path+".leg", "must be at most %.3g m, as high as the %s is under the slope there, have %.6g m; or fill the edge along the floor", low, c.Upright().Wall(), c.Leg)
	case c.Axis() != 2 && low < thinnest:
		v.fail(path+".edge", "must have a wall, but the slope comes down to the floor there; for layers on the slope write wall: ceiling")
	}
}

// thinnest is the least height of what is left of a fill under a slope, m.
const thinnest = 0.02

func (v *validator) cloud(path string, t *Treatment) {
	r := &v.p.Room
	b := t.Box
	switch {
	case !(b.Min.X < b.Max.X && b.Min.Y < b.Max.Y):
		v.fail(path+".to", "must be beyond from on both axes, have %.6g m, %.6g m after %.6g m, %.6g m", b.Max.X, b.Max.Y, b.Min.X, b.Min.Y)
	case !v.inRange(path+".gap", t.Gap, 0, r.Size.Z, "m"):
	default:
		if out := r.outsideBy(r.Space(t)); out != "" {
			v.fail(path, "must be inside the room, reaches %s", out)
		}
	}
}

func (v *validator) panel(path string, t *Treatment) {
	if !v.block(path, t.Box) {
		return
	}
	if t.Furnished() {
		v.filling(path, t)
		return
	}
	thin := t.Box.thinnest()
	if depth := t.Depth(); math.Abs(depth-thin) > 0.005 {
		v.fail(path+".layers", "must fill the thinnest side of the box, %.6g m; together they are %.6g m thick", thin, depth)
	}
}

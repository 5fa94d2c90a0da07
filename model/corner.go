package model

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Corner is the edge between two walls, floor and ceiling included, and how much of
// it is filled.
//
// Under a sloped ceiling a fill of an upright corner or along the floor ends at the
// slope. One between a wall and the ceiling follows the slope: its legs run down the wall
// and along the ceiling, straight away from the wall.
type Corner struct {
	Walls    [2]Face // on different axes
	Square   bool    // filled to a square; otherwise to a triangle
	Leg      float64 // along both walls, m
	From, To float64 // along the edge, on the axis that neither wall is normal to, m
}

// Axis returns the axis that the edge runs along: 0 for x, 1 for y, 2 for z.
func (c Corner) Axis() int { return 3 - c.Walls[0].Axis() - c.Walls[1].Axis() }

// Upright returns the wall of an edge along floor or ceiling that is upright.
func (c Corner) Upright() Face {
	if c.Walls[0].Axis() == 2 {
		return c.Walls[1]
	}
	return c.Walls[0]
}

// FollowsSlope reports whether a fill is along the ceiling of a room with slopes, and so
// has the section that [Room.Section] tells.
func (r *Room) FollowsSlope(c Corner) bool {
	return len(r.Slopes) > 0 && slices.Contains(c.Walls[:], Ceiling)
}

// Section returns the section through a fill along the ceiling at a place on its edge,
// corner by corner from the lower end of its leg on the wall: up to the ceiling, along
// that, and for a square down again and back.
func (r *Room) Section(c Corner, at float64) []r3.Vec {
	wall, away := r.edgePlace(c.Upright(), at)
	section := []r3.Vec{{X: wall.X, Y: wall.Y, Z: r.CeilingAt(wall) - c.Leg}}
	top := r.along(wall, away, c.Leg)
	section = append(section, top...)
	if c.Square {
		for _, v := range slices.Backward(top[1:]) {
			section = append(section, r3.Sub(v, r3.Vec{Z: c.Leg}))
		}
	}
	return section
}

// Depth is how deep a treatment is in this room, m; see [Treatment.Depth]. Only of a fill
// that follows a slope the room has a say.
func (r *Room) Depth(t *Treatment) float64 {
	if t.Form != InCorner || !r.FollowsSlope(t.Corner) {
		return t.Depth()
	}
	section := r.Section(t.Corner, t.Corner.From)
	end := len(section) - 1 // of the leg along the ceiling
	if t.Corner.Square {
		end = len(section) / 2
	}
	down, along := r3.Sub(section[0], section[1]), r3.Sub(section[end], section[1])
	if t.Corner.Square {
		return r3.Norm(r3.Add(down, along))
	}
	return r3.Norm(r3.Cross(down, along)) / r3.Norm(r3.Sub(down, along))
}

// edgePlace returns a place at the foot of one of the four sides, and the way from there
// into the room.
func (r *Room) edgePlace(f Face, at float64) (place, away r2.Vec) {
	s := r.stretchAt(Patch{Face: f, Along: at}, r.side(f))
	return s.From, s.Inward
}

// along returns the line on the ceiling that begins above a place, goes a way on plan and
// has a length in m.
func (r *Room) along(from, way r2.Vec, length float64) []r3.Vec {
	line := r.CeilingLine(from, r2.Add(from, r2.Scale(length, way))) // which is too long
	for i, v := range line[1:] {
		d := r3.Norm(r3.Sub(v, line[i]))
		if d >= length {
			end := r3.Add(line[i], r3.Scale(length/d, r3.Sub(v, line[i])))
			return append(line[:i+1:i+1], end)
		}
		length -= d
	}
	return line
}

// Underside returns how far from its wall a fill along the ceiling reaches at a place on
// its edge, and how high its lower side is at a distance from the wall, m.
func (r *Room) Underside(c Corner, at, distance float64) (reach, height float64) {
	wall, away := r.edgePlace(c.Upright(), at)
	top := r.along(wall, away, c.Leg)
	low, end := top[0].Z-c.Leg, top[len(top)-1]
	reach = r2.Norm(r2.Sub(r2.Vec{X: end.X, Y: end.Y}, wall))
	if c.Square {
		return reach, r.CeilingAt(r2.Add(wall, r2.Scale(distance, away))) - c.Leg
	}
	return reach, low + distance/reach*(end.Z-low)
}

// cornerSpace returns the box about a fill.
func (r *Room) cornerSpace(c Corner) Block {
	b := Block{Max: r.Size}
	for _, wall := range c.Walls {
		setSide(&b, wall.Axis(), r.near(wall, c.Leg))
	}
	setSide(&b, c.Axis(), Range{c.From, c.To})
	if len(r.Slopes) == 0 {
		return b
	}
	if r.FollowsSlope(c) {
		var reach float64
		low := math.Inf(1)
		for _, at := range r.bends(c) {
			far, _ := r.Underside(c, at, 0)
			reach = max(reach, far)
			for _, v := range r.Section(c, at) {
				low = min(low, v.Z)
			}
		}
		setSide(&b, c.Upright().Axis(), r.near(c.Upright(), reach))
		b.Min.Z, b.Max.Z = low, r.Size.Z
	}
	over := b.corners()
	b.Max.Z = min(b.Max.Z, r.highest(over[:]))
	return b
}

// bends returns the places along the edge of a fill where the ceiling may bend, both ends
// included.
func (r *Room) bends(c Corner) []float64 {
	from, _ := r.edgePlace(c.Upright(), c.From)
	to, _ := r.edgePlace(c.Upright(), c.To)
	var list []float64
	for _, t := range r.kinks(from, to) {
		list = append(list, c.From+t*(c.To-c.From))
	}
	return list
}

// near returns the part of a wall's axis that is within a distance of it.
func (r *Room) near(f Face, distance float64) Range {
	length := [3]float64{r.Size.X, r.Size.Y, r.Size.Z}[f.Axis()]
	if f.Far() {
		return Range{length - distance, length}
	}
	return Range{0, distance}
}

package build

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// fillSize is what the fill of a corner measures.
type fillSize struct {
	length  float64 // along its edge, m
	area    float64 // of its section, m²
	chord   float64 // between the ends of its legs, m
	oblique bool    // the legs stand at no right angle
}

// squareTolerance is the sine of the most by which an angle may differ from a right one: 1°.
const squareTolerance = 0.0175

// fill measures the fill of treatment i, and notes how a sloped ceiling changes it.
func (m *maker) fill(i int) fillSize {
	r, c := &m.project.Room, m.project.Room.Treatments[i].Corner
	f := fillSize{length: c.To - c.From, area: c.Leg * c.Leg / 2, chord: c.Leg * math.Sqrt2}
	if c.Square {
		f.area *= 2
	}
	if len(r.Slopes) == 0 {
		return f
	}
	if !r.FollowsSlope(c) {
		m.cutAtSlope(i, &f)
		return f
	}
	from, to := r.Section(c, c.From), r.Section(c, c.To)
	f.length = r3.Norm(r3.Sub(to[1], from[1]))
	end := len(from) - 1 // of the leg along the ceiling
	if c.Square {
		end = len(from) / 2
	}
	down, along := r3.Sub(from[0], from[1]), r3.Sub(from[end], from[1])
	f.chord = r3.Norm(r3.Sub(down, along))
	cross := r3.Norm(r3.Cross(down, along))
	cos := r3.Dot(down, along) / (r3.Norm(down) * r3.Norm(along))
	if math.Abs(cos) < squareTolerance {
		return f
	}
	f.oblique = true
	if f.area = cross / 2; c.Square {
		f.area = cross
		m.note(i, "follows the slope: cut one end of each layer to its angle, and put what comes off to the other end")
		return f
	}
	m.note(i, "follows the slope: each layer is a piece of ", Metres(f.chord/2), " by ", Metres(2*f.area/f.chord),
		" cut from corner to corner, and the halves put side by side, one turned over")
	return f
}

// cutAtSlope shortens a fill that a slope cuts to its length where the slope is highest.
func (m *maker) cutAtSlope(i int, f *fillSize) {
	r, t := &m.project.Room, &m.project.Room.Treatments[i]
	space := r.Space(t)
	if t.Corner.Axis() == 2 {
		f.length = space.Max.Z - space.Min.Z
	}
	if r.CeilingOver(space) < space.Max.Z-slack {
		m.note(i, "ends at the slope: cut what reaches it to its angle; the list counts it whole")
	}
}

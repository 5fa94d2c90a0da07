package model

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Sizes that are possible but hardly meant. Our own limits, no source.
const (
	smallestBox   = 0.05 // side of a loudspeaker's box, m
	highestRoom   = 8.0  // m
	largestHall   = 100  // m; above it a unit is wrong
	longestToWide = 3.0  // a room's length to its width, or the reverse
	offMidline    = 0.15 // from the mid-line, beyond which a place is not on it, m
	onMidline     = 0.03 // within which it is, m
)

// likelier asks whether a length in m that is too large was meant to be ten times smaller, or in
// cm or mm, if that is within limits.
func likelier(m, low, high float64) string {
	within := func(t float64) bool { return t >= low && t <= high }
	switch {
	case within(m / 10):
		return fmt.Sprintf("; did you mean %.4g m?", m/10)
	case within(m / 100):
		return fmt.Sprintf("; did you mean %.4g cm?", m)
	case within(m / 1000):
		return fmt.Sprintf("; did you mean %.4g mm?", m)
	}
	return ""
}

// longer asks whether a length in m that is too small was meant in ft instead of in, or in m, if that is
// within limits.
func longer(m, low, high float64) string {
	const inch, foot = 0.0254, 0.3048
	tenths := func(v float64) bool { return math.Abs(10*v-math.Round(10*v)) < 1e-6 }
	if ft := m / inch; tenths(ft) && !tenths(100*m) && ft*foot >= low && ft*foot <= high {
		return fmt.Sprintf("; did you mean %.4g ft?", ft)
	}
	for _, times := range []float64{10, 100, 1000} {
		if t := times * m; t >= low && t <= high {
			return fmt.Sprintf("; did you mean %.4g m?", t)
		}
	}
	return ""
}

// boxSize checks the outer size of a loudspeaker.
func (v *validator) boxSize(path string, b Dimensions, most float64) {
	for _, d := range []struct {
		name string
		m    float64
	}{{"depth", b.Depth}, {"width", b.Width}, {"height", b.Height}} {
		switch {
		case d.m > 0 && d.m < smallestBox:
			v.fail(path+"."+d.name, "must be at least %v cm, have %.3g cm; did you mean %.3g cm?", 100*smallestBox, 100*d.m, 1000*d.m)
		case !(d.m > 0 && d.m <= most):
			v.fail(path+"."+d.name, "must be above 0 and at most %v m, have %.6g m%s", most, d.m, likelier(d.m, smallestBox, 1))
		}
	}
}

// swapHint asks whether x and y of a place outside the room were swapped, if that would put it
// inside.
func (r *Room) swapHint(at r3.Vec) string {
	turned, plan := r3.Vec{X: at.Y, Y: at.X, Z: at.Z}, r3.Vec{X: at.X, Y: at.Y}
	if r.outsideBy(point(plan)) == "" || r.outsideBy(point(turned)) != "" {
		return ""
	}
	return "; did you swap x and y? A place is [from the front wall, from the left wall, above the floor]"
}

// proportions asks about a room of odd proportions, and about places that suggest that
// lengths were swapped.
func (d *warnings) proportions(p *Project) {
	size := p.Room.Size
	if ratio := max(size.X/size.Y, size.Y/size.X); ratio > longestToWide {
		d.add("one side of the room is more than three times as long as the other: is the longer one right?")
	}
	if size.Z > max(size.X, size.Y) {
		d.add("the room is higher than it is long and wide: is its height right?")
	}
	s := &p.Speakers
	if !s.Placed || !p.Room.Plain() {
		return
	}
	middle := (s.Left.Y + s.Right.Y) / 2
	off := func(y float64) bool { return math.Abs(middle-y) > offMidline }
	if off(size.Y/2) && math.Abs(middle-size.X/2) <= onMidline {
		d.add("the line midway between the speakers is half the room's length from the left wall, not half its width: did you swap length and width?")
	}
	if len(p.Seats) == 0 || !p.Seats[0].Placed {
		return
	}
	if at := p.Seats[0].At; off(at.Y) && math.Abs(at.X-middle) <= onMidline && at.Y > max(s.Left.X, s.Right.X) {
		d.add("the seat is far off the line midway between the speakers, and its x would be on it as y: did you swap them? A place is [from the front wall, from the left wall, above the floor]")
	}
}

package model

import (
	"fmt"
	"math"
	"math/cmplx"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
)

// The room sizes that the methods behind this module are made for, m.
const (
	SmallestSide = 1.2
	LargestSide  = 25.0
)

// The specific impedances that a wall may have, by size. Beyond them lie slips of the pen: walls that
// absorb 2 % to 60 % of a random field have 400 to 10. The hardest stands for a rigid wall.
const (
	softestWall = 0.1
	hardestWall = 1e7
)

// slack forgives the rounding of sums such as 1.5 m + 1.2 m, m.
const slack = 1e-6

// Validate returns what makes the project impossible: missing or absurd sizes, things
// outside the room or inside one another, zones in which nothing can stand. Nil means that
// the project can be computed. A present place that breaks the owner's own limits is a
// warning, not a problem; see [Project.FindWarnings].
func (p *Project) Validate() Problems {
	v := validator{p: p}
	v.room()
	v.walls()
	v.speakers()
	v.seats()
	v.listening()
	if len(v.problems) == 0 {
		v.shape()
	}
	if len(v.problems) == 0 {
		v.built()
		v.stock()
		v.standing()
	}
	if len(v.problems) == 0 {
		v.air()
		v.subwoofers()
		v.zones()
		v.options()
		v.measurements()
		v.calibration()
	}
	return v.problems
}

// validator gathers the problems of a project.
type validator struct {
	p        *Project
	problems Problems
}

func (v *validator) fail(path, format string, args ...any) {
	v.problems = append(v.problems, Problem{Path: path, Text: Sprintf(format, args...)})
}

// inRange fails unless low <= x <= high; NaN fails.
func (v *validator) inRange(path string, x, low, high float64, unit string) bool {
	if x >= low && x <= high {
		return true
	}
	v.fail(path, "must be %v to %v %s, have %.6g %s", low, high, unit, x, unit)
	return false
}

func (v *validator) room() {
	r := &v.p.Room
	for _, side := range []struct {
		name string
		m    float64
	}{{"length", r.Size.X}, {"width", r.Size.Y}, {"height", r.Size.Z}} {
		path := "room." + side.name
		switch {
		case side.m > LargestSide && side.m <= largestHall:
			v.fail(path, "must be %v to %v m, have %.6g m: this tool is for small rooms, where single resonances dominate; a hall needs other methods%s",
				SmallestSide, LargestSide, side.m, likelier(side.m, SmallestSide, LargestSide))
		case side.m > LargestSide:
			v.fail(path, "must be %v to %v m, have %.6g m%s", SmallestSide, LargestSide, side.m, likelier(side.m, SmallestSide, LargestSide))
		case side.name == "height" && side.m > highestRoom:
			v.fail(path, "must be %v to %v m, have %.6g m%s", SmallestSide, highestRoom, side.m, likelier(side.m, SmallestSide, highestRoom))
		case side.m > 0 && side.m < SmallestSide:
			v.fail(path, "must be %v to %v m, have %.3g m%s", SmallestSide, LargestSide, side.m, longer(side.m, SmallestSide, highestRoom))
		default:
			v.inRange(path, side.m, SmallestSide, LargestSide, "m")
		}
	}
	if c := r.Temperature - 273.15; r.Temperature != 0 && !(c >= -10 && c <= 45) {
		v.fail("room.temperature", "must be -10 to 45 °C, have %.4g °C", c)
	}
}

func (v *validator) walls() {
	for _, f := range Faces {
		path := "walls." + f.String()
		if s := v.p.Room.Walls[f]; s.Set() {
			v.surface(path, s)
		} else {
			v.fail(path, "must have a construction, an impedance or an absorption table for the %s; write unknown if you do not know", f.Wall())
		}
	}
}

// surface checks one that says something.
func (v *validator) surface(path string, s Surface) {
	ways := 0
	for _, set := range []bool{s.Construction != "", s.Impedance != 0, len(s.Absorption) > 0} {
		if set {
			ways++
		}
	}
	if ways > 1 {
		v.fail(path, "is described in %d ways; keep one of construction, impedance and absorption", ways)
	}
	re, im := real(s.Impedance), imag(s.Impedance)
	if !(re >= 0) || math.IsInf(re, 0) || math.IsNaN(im) || math.IsInf(im, 0) {
		v.fail(path+".impedance", "must have a real part of zero or more, have %.6g%+.6gj: a wall cannot supply energy", re, im)
	} else if size := cmplx.Abs(s.Impedance); size != 0 && (size < softestWall || size > hardestWall) {
		v.fail(path+".impedance", "must be %g to 1e7 in size, have %.6g; walls of rooms have about 10 to 500", softestWall, size)
	}
	edges := map[bool]string{true: "; a laboratory value above 1 comes from the sample's edges: write 1"}
	last := 0.0
	for i, a := range s.Absorption {
		row := fmt.Sprintf("%s.absorption[%d]", path, i)
		if !(a.Frequency > last && a.Frequency <= 20000) {
			v.fail(row, "frequencies must rise from above 0 to 20000 Hz, have %.6g Hz after %.6g Hz", a.Frequency, last)
		}
		if !(a.Coefficient >= 0 && a.Coefficient <= 1) {
			v.fail(row, "absorption must be 0 to 1, have %.6g%s", a.Coefficient, edges[a.Coefficient > 1])
		}
		last = a.Frequency
	}
}

func (v *validator) speakers() {
	s := &v.p.Speakers
	if s.Box != (Dimensions{}) {
		v.boxSize("speakers.box", s.Box, 2.5)
	}
	v.inRange("speakers.woofer_below_axis", s.WooferBelow, -1.5, 1.5, "m")
	v.inRange("speakers.rear_clearance", s.RearClearance, 0, 3, "m")
	v.inRange("speakers.side_clearance", s.SideClearance, 0, 3, "m")
	if s.LowLimit != 0 {
		v.inRange("speakers.low_limit", s.LowLimit, 5, 500, "Hz")
	}
	switch {
	case s.Fixed && !s.Placed:
		v.fail("speakers.arrangement", "must have now, with left and right: fixed speakers stay there")
	case s.Fixed && len(s.Zones) > 0:
		v.fail("speakers.may_stand", "must be left out for fixed speakers; if they may move, write arrangement: free")
	}
	if len(s.AxisHeights) == 0 {
		v.fail("speakers.axis_height", "must have at least one height")
	}
	v.ordered("speakers.apart", s.Apart, 0, " m")
	v.zoneRanges("speakers.may_stand", s.Zones)
}

func (v *validator) seats() {
	for i, s := range v.p.Seats {
		path := fmt.Sprintf("seats[%d]", i)
		switch {
		case !(s.Weight >= 0) || math.IsInf(s.Weight, 0):
			v.fail(path+".weight", "must be 0 or more, have %.6g", s.Weight)
		case i == 0 && s.Weight == 0:
			v.fail(path+".weight", "must be above 0 for the first seat, which is the main one")
		}
		if !s.Placed && len(s.Zones) == 0 {
			v.fail(path, "must have a place (at) or zones where it may go (may_move)")
		}
		v.zoneRanges(path+".may_move", s.Zones)
		v.onFurniture(i, path)
	}
	if len(v.p.Seats) == 0 {
		v.fail("seats", "must have at least one seat")
	}
}

// onFurniture checks a seat on the same piece of furniture as the main one.
func (v *validator) onFurniture(i int, path string) {
	s, main := v.p.Seats[i], v.p.Seats[0]
	switch {
	case i == 0 || s.On == "" || s.On != main.On:
	case !s.Placed || !main.Placed:
		v.fail(path+".on", "needs a place (at) for this seat and for the first, which tell how far apart they are on %q", s.On)
	case len(s.Zones) > 0:
		v.fail(path+".may_move", "must be left out: %q goes where the first seat goes", s.On)
	}
}

// listening checks that what the owner wants is possible in itself.
func (v *validator) listening() {
	l, g := &v.p.Listening, &v.p.Goal
	v.ordered("listening.distance", l.Distance, 0, " m")
	v.ordered("listening.angle", Range{l.Angle.Min * 180 / math.Pi, l.Angle.Max * 180 / math.Pi}, 0, "°")
	if l.Angle.Max > math.Pi {
		v.fail("listening.angle", "must be 180° or less, have %.4g°", l.Angle.Max*180/math.Pi)
	}
	v.inRange("listening.back_distance", l.BackDistance, 0, LargestSide, "m")
	v.facing()
	v.inRange("listening.balance", l.Balance, 0, LargestSide, "m")
	grid := DefaultGrid()
	lowest, highest := grid[0], grid[len(grid)-1]
	from := v.inRange("goal.from", g.From, lowest, highest, "Hz")
	switch to := v.inRange("goal.to", g.To, lowest, highest, "Hz"); {
	case !from || !to:
	case g.From >= g.To:
		v.fail("goal.to", "must be above the %.6g Hz that the goal begins with, have %.6g Hz", g.From, g.To)
	case g.To < g.From*narrowestBand:
		v.fail("goal.to", "must be %.0f Hz or more, a third of an octave above the %.6g Hz that the goal begins with, have %.6g Hz", math.Ceil(g.From*narrowestBand), g.From, g.To)
	}
	v.inRange("goal.decay_weight", g.DecayWeight, 0, 100, "dB/s")
	v.inRange("goal.smoothing", float64(g.Smoothing), 1, 96, "parts of an octave")
}

// facing checks the walls that may be faced beside the front wall.
func (v *validator) facing() {
	faces := v.p.Listening.AlsoFace
	for i, f := range faces {
		path := fmt.Sprintf("listening.also_face[%d]", i)
		switch {
		case f == Front || f.Axis() == 2:
			v.fail(path, "must be back, left or right: the front wall is always tried, have %v", f)
		case slices.Contains(faces[:i], f):
			v.fail(path, "must not name the %s twice", f.Wall())
		}
	}
	if len(faces) > 0 && v.p.Speakers.Fixed {
		v.fail("listening.also_face", "must be left out for fixed speakers: they face one way")
	}
}

// ordered checks a range that may be left out.
func (v *validator) ordered(path string, r Range, low float64, unit string) {
	switch {
	case !r.Given():
	case !(r.Min <= r.Max) || math.IsInf(r.Min, 0) || math.IsInf(r.Max, 0):
		v.fail(path, "must go from low to high, have %.6g to %.6g%s", r.Min, r.Max, unit)
	case r.Min < low:
		v.fail(path, "must not be below %v%s, have %.6g%s", low, unit, r.Min, unit)
	}
}

func (v *validator) zoneRanges(path string, zones []Zone) {
	for i, z := range zones {
		at := fmt.Sprintf("%s[%d]", path, i)
		if !z.X.Given() && !z.Y.Given() {
			v.fail(at, "must give x, y or both as a range")
		}
		v.ordered(at+".x", z.X, math.Inf(-1), " m")
		v.ordered(at+".y", z.Y, math.Inf(-1), " m")
	}
}

// outsideBy says in words how far a block reaches out of the room; "" if not.
func (r *Room) outsideBy(b Block) string {
	var out []string
	for _, d := range []struct {
		by float64
		f  Face
	}{
		{-b.Min.X, Front}, {b.Max.X - r.Size.X, Back}, {-b.Min.Y, Left},
		{b.Max.Y - r.Size.Y, Right}, {-b.Min.Z, Floor}, {b.Max.Z - r.Size.Z, Ceiling},
	} {
		if !(d.by <= slack) {
			out = append(out, fmt.Sprintf("%.3g m beyond the %s", d.by, d.f.Wall()))
		}
	}
	if len(out) == 0 && !r.Plain() {
		if by := r.beyondPlan(b); by > slack {
			out = append(out, fmt.Sprintf("%.3g m beyond the outline", by))
		}
		if by := b.Max.Z - r.CeilingOver(b); by > slack {
			out = append(out, fmt.Sprintf("%.3g m above the sloped ceiling", by))
		}
	}
	return strings.Join(out, " and ")
}

// point is a block without size.
func point(at r3.Vec) Block { return Block{Min: at, Max: at} }

// narrowestBand is the least ratio of the ends of a goal: a third of an octave, the width of the
// bands in which decays are read.
var narrowestBand = math.Cbrt(2)

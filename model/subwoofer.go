package model

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Subwoofers is what may be chosen of the subwoofers that carry the lowest notes
// along with the pair. All of them play the sum of both channels.
type Subwoofers struct {
	Count  int        // the most to plan for, 1 to 4
	Box    Dimensions // outer size of one box, m; its back is to the wall
	Height float64    // the driver's centre above the floor, m

	LowPass  Range   // Hz
	HighPass float64 // of the pair, Hz; 0 is none
	Filter   Filter  // of the low-pass, and of the high-pass

	Gain     Range // dB, against one speaker of the pair
	Delay    Range // s
	Polarity Polarity
	LowLimit float64 // Hz at -3 dB outdoors; 0 is not given

	Alignment Alignment // how the level falls below LowLimit

	Where  Stand    // against the walls, in corners or anywhere
	Zones  []Zone   // within which drivers may be; none means the whole floor
	Placed []r3.Vec // where they stand now: the drivers, m; may be empty
}

// Filter is a pair of a low-pass and a high-pass with one corner frequency.
type Filter int

// The filters.
const (
	Butterworth2   Filter = iota // 12 dB per octave, -3.01 dB at the corner
	Butterworth4                 // 24 dB per octave, -3.01 dB at the corner
	LinkwitzRiley4               // 24 dB per octave, -6.02 dB at the corner; low and high add up to a flat response
)

var filterNames = [...]string{"2nd order Butterworth", "4th order Butterworth", "4th order Linkwitz-Riley"}

// String returns the filter's name: "4th order Linkwitz-Riley".
func (f Filter) String() string {
	if f < 0 || int(f) >= len(filterNames) {
		return fmt.Sprintf("Filter(%d)", int(f))
	}
	return filterNames[f]
}

// Polarity says which ways round a subwoofer may be connected.
type Polarity int

// The polarities.
const (
	EitherPolarity Polarity = iota
	NormalPolarity
	ReversedPolarity
)

// Stand says where on the floor subwoofers may be.
type Stand int

// The stands.
const (
	AlongWalls Stand = iota
	InCorners
	Anywhere
)

// SubwooferGap is the space left between a subwoofer's back and the wall, for plugs
// and air, m. Common practice, no source.
const SubwooferGap = 0.05

// SubwooferPlace is a place for one subwoofer.
type SubwooferPlace struct {
	Driver r3.Vec // the middle of the box on plan, m
	Turned bool   // its back is to a side wall: depth along y, width along x
	Corner bool
}

// Cabinet returns the space that a subwoofer's box fills. Above and below the driver
// it is taken as half the box's height, but never below the floor.
func (s *Subwoofers) Cabinet(p SubwooferPlace) Block {
	dx, dy := s.Box.Depth/2, s.Box.Width/2
	if p.Turned {
		dx, dy = dy, dx
	}
	low := max(0, p.Driver.Z-s.Box.Height/2)
	return Block{
		Min: r3.Vec{X: p.Driver.X - dx, Y: p.Driver.Y - dy, Z: low},
		Max: r3.Vec{X: p.Driver.X + dx, Y: p.Driver.Y + dy, Z: low + s.Box.Height},
	}
}

// SubwooferPlaces lists every place for a subwoofer that the room and the file allow, on a
// lattice of about the given pitch in m, always in the same order. It does not know
// the pair, the seats or the other subwoofers.
func (p *Project) SubwooferPlaces(pitch float64) []SubwooferPlace {
	s := p.Subwoofers
	if s == nil {
		return nil
	}
	if !(pitch > 0) {
		panic(fmt.Sprintf("model: a lattice of %v m", pitch))
	}
	var legal []SubwooferPlace
	for _, q := range p.latticePlaces(pitch) {
		if p.SubwooferPlaceFault(q) == "" && (s.Where == Anywhere || !near(legal, q.Driver)) {
			legal = append(legal, q)
		}
	}
	return legal
}

// latticePlaces lists places legal or not.
func (p *Project) latticePlaces(pitch float64) []SubwooferPlace {
	switch p.Subwoofers.Where {
	case InCorners:
		return p.cornerPlaces()
	case AlongWalls:
		return append(p.cornerPlaces(), p.wallPlaces(pitch)...)
	}
	return p.floorPlaces(pitch)
}

// hasSubwooferPlace reports whether there is any legal place on a lattice.
func (p *Project) hasSubwooferPlace(pitch float64) bool {
	return slices.ContainsFunc(p.latticePlaces(pitch), func(q SubwooferPlace) bool { return p.SubwooferPlaceFault(q) == "" })
}

// near reports whether a place within 2 cm of a place is already listed.
func near(list []SubwooferPlace, at r3.Vec) bool {
	return slices.ContainsFunc(list, func(q SubwooferPlace) bool { return Plan(q.Driver, at) < 0.02 })
}

// SubwooferPlaceFault says in one clause what keeps a subwoofer from standing at a place, or "".
func (p *Project) SubwooferPlaceFault(q SubwooferPlace) string {
	s := p.Subwoofers
	if by := outside(s.Zones, q.Driver); by > slack {
		return fmt.Sprintf("its driver would be %.3g m outside the zones for subwoofers", by)
	}
	box := s.Cabinet(q)
	if out := p.Room.outsideBy(box); out != "" {
		return "its box would reach " + out
	}
	const gap = SubwooferGap - 1e-3 // places are rounded to the millimetre
	air := box
	air.Min, air.Max = r3.Sub(box.Min, r3.Vec{X: gap, Y: gap}), r3.Add(box.Max, r3.Vec{X: gap, Y: gap})
	if p.Room.outsideBy(air) != "" {
		return "its box would touch a wall"
	}
	for b := range p.Obstacles() {
		if box.Overlaps(b) {
			return Sprintf("its box would be inside %q", b.Name)
		}
	}
	return ""
}

// SubwooferPlaceAt returns the place of a subwoofer that stands somewhere already, turned if it
// would reach out of the room otherwise.
func (p *Project) SubwooferPlaceAt(driver r3.Vec) SubwooferPlace {
	q := SubwooferPlace{Driver: driver}
	q.Turned = p.Room.outsideBy(p.Subwoofers.Cabinet(q)) != ""
	return q
}

// placeAt returns a place on plan rounded to the millimetre.
func (s *Subwoofers) placeAt(v r2.Vec, turned, corner bool) SubwooferPlace {
	round := func(m float64) float64 { return math.Round(m*1000) / 1000 }
	return SubwooferPlace{Driver: r3.Vec{X: round(v.X), Y: round(v.Y), Z: s.Height}, Turned: turned, Corner: corner}
}

// offset returns how far from a wall the middle of a box is that has its back to it,
// and whether the box is turned. A box at an oblique wall keeps its sides along the
// room, and its nearest corner somewhat more than the gap away.
func (s *Subwoofers) offset(inward r2.Vec) (distance float64, turned bool) {
	turned = math.Abs(inward.Y) > math.Abs(inward.X)
	dx, dy := s.Box.Depth/2, s.Box.Width/2
	if turned {
		dx, dy = dy, dx
	}
	return (SubwooferGap+dx)*math.Abs(inward.X) + (SubwooferGap+dy)*math.Abs(inward.Y), turned
}

// wallPlaces lists places along every edge of the plan. The lattice is centred on the
// edge, so that a wall's midpoint is among them.
func (p *Project) wallPlaces(pitch float64) []SubwooferPlace {
	s, plan := p.Subwoofers, p.Room.Plan()
	var list []SubwooferPlace
	for i := range plan {
		from, to := plan.Edge(i)
		in := plan.Inward(i)
		off, turned := s.offset(in)
		length := r2.Norm(r2.Sub(to, from))
		along := r2.Unit(r2.Sub(to, from))
		mid := r2.Add(r2.Scale(0.5, r2.Add(from, to)), r2.Scale(off, in))
		n := int(length / 2 / pitch)
		for k := -n; k <= n; k++ {
			list = append(list, s.placeAt(r2.Add(mid, r2.Scale(float64(k)*pitch, along)), turned, false))
		}
	}
	return list
}

// cornerPlaces lists the places in the corners of the plan, the backs to the edge
// before each corner.
func (p *Project) cornerPlaces() []SubwooferPlace {
	s, plan := p.Subwoofers, p.Room.Plan()
	var list []SubwooferPlace
	for i := range plan {
		before := (i + len(plan) - 1) % len(plan)
		in1, in2 := plan.Inward(before), plan.Inward(i)
		off1, turned := s.offset(in1)
		dx, dy := s.Box.Depth/2, s.Box.Width/2
		if turned {
			dx, dy = dy, dx
		}
		off2 := (SubwooferGap+dx)*math.Abs(in2.X) + (SubwooferGap+dy)*math.Abs(in2.Y)
		// v·in = corner·in + off for both walls
		det := r2.Cross(in1, in2)
		if math.Abs(det) < 1e-6 {
			continue
		}
		shift := r2.Vec{X: (off1*in2.Y - off2*in1.Y) / det, Y: (off2*in1.X - off1*in2.X) / det}
		list = append(list, s.placeAt(r2.Add(plan[i], shift), turned, true))
	}
	return list
}

// floorPlaces lists places all over the floor, the middle of the room among them.
func (p *Project) floorPlaces(pitch float64) []SubwooferPlace {
	s, size := p.Subwoofers, p.Room.Size
	nx, ny := int(size.X/2/pitch), int(size.Y/2/pitch)
	var list []SubwooferPlace
	for i := -nx; i <= nx; i++ {
		for j := -ny; j <= ny; j++ {
			v := r2.Vec{X: size.X/2 + float64(i)*pitch, Y: size.Y/2 + float64(j)*pitch}
			list = append(list, s.placeAt(v, false, false))
		}
	}
	return list
}

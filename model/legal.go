package model

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Breach is a constraint that a layout breaks, and by how much.
type Breach struct {
	What   string  // one clause: "left speaker box is inside the desk"
	Amount float64 // m by which it is broken (an angle counts at the triangle's radius)
	Angle  float64 // rad by which an angle is broken; 0 for what is broken by a length
}

// PresentBreaches returns the constraints that the present places break; nil if the project
// does not say where things are.
func (p *Project) PresentBreaches() []Breach {
	now, ok := p.Now()
	if !ok {
		return nil
	}
	return p.Breaches(now)
}

// By says by how much a constraint is broken: "9.3 cm", "12°".
func (b Breach) By() string {
	if b.Angle != 0 {
		return b.Degrees()
	}
	return fmt.Sprintf("%.3g cm", 100*b.Amount)
}

// Degrees writes the angle of a breach: "12°", "0.4°".
func (b Breach) Degrees() string {
	v, places := b.Angle*180/math.Pi, 1
	if v >= 9.95 {
		places = 0
	}
	return fmt.Sprintf("%.*f°", places, v)
}

// The least distances of every layout, whatever the project asks for, in m. Any closer and
// the pair is one source, or the ears are beside a woofer; no engine here models a box that
// near. These and FreeBalance are common practice, no source.
const (
	LeastApart    = 0.40 // between the woofers, or a box's width where that is more
	LeastDistance = 0.50 // from the seat to each woofer
	FreeBalance   = 0.05 // most that the seat's two distances differ for a free pair
)

// SpeakersApart returns how far apart on plan the woofers may be, m.
func (p *Project) SpeakersApart() Range {
	return floored(p.Speakers.Apart, max(p.Speakers.Box.Width, LeastApart))
}

// SeatDistance returns how far on plan the main seat may be from each woofer, m.
func (p *Project) SeatDistance() Range { return floored(p.Listening.Distance, LeastDistance) }

// SeatBalance returns the most that the seat's distances to the two woofers may
// differ, m; +Inf for no limit.
func (p *Project) SeatBalance() float64 {
	switch {
	case p.Listening.Balance > 0:
		return p.Listening.Balance
	case p.Speakers.Free:
		return FreeBalance
	}
	return math.Inf(1)
}

// floored returns a range that begins no lower than least; one that is not given
// has no upper end.
func floored(r Range, least float64) Range {
	if !r.Given() {
		r.Max = math.Inf(1)
	}
	r.Min = max(r.Min, least)
	return r
}

// Cabinet returns the space that a speaker's box fills when its woofer is at the
// given place and it faces along x. The middle of the box's height is taken to be
// midway between woofer and acoustic axis. A box without size is a point.
func (s *Speakers) Cabinet(woofer r3.Vec) Block {
	mid := woofer.Z + s.WooferBelow/2
	return Block{
		Min: r3.Vec{X: woofer.X - s.Box.Depth, Y: woofer.Y - s.Box.Width/2, Z: mid - s.Box.Height/2},
		Max: r3.Vec{X: woofer.X, Y: woofer.Y + s.Box.Width/2, Z: mid + s.Box.Height/2},
	}
}

// Breaches lists every constraint of the project that a layout breaks. A legal
// layout gives none.
func (p *Project) Breaches(l Layout) []Breach {
	var c breaches
	if !p.Speakers.Fixed { // a search could not change what is fixed
		c.speaker(p, "left", l.Left)
		c.speaker(p, "right", l.Right)
		c.listeners(p, l)
	}
	c.seat(p, l.Seat)
	c.triangle(p, l)
	return c
}

// Violation returns the sum of the amounts of all breaches in m; 0 is legal.
func (p *Project) Violation(l Layout) float64 {
	var sum float64
	for _, b := range p.Breaches(l) {
		sum += b.Amount
	}
	return sum
}

// withClearance returns a box with the space behind it and beside it that must be
// free of walls.
func (s *Speakers) withClearance(cab Block) Block {
	cab.Min.X -= s.RearClearance
	cab.Min.Y -= s.SideClearance
	cab.Max.Y += s.SideClearance
	return cab
}

// earsClear is how far woofers keep from the ears at every other seat, m: nobody sits inside a
// loudspeaker. The seat that moves has its listening distance. Our own choice, no source.
const earsClear = 0.5

// listeners notes woofers at the ears of the seats beside the main one.
func (c *breaches) listeners(p *Project, l Layout) {
	if len(p.Seats) < 2 {
		return
	}
	for i, s := range p.Seats[1:] {
		if !s.Placed {
			continue
		}
		name := s.Name
		if name == "" {
			name = Sprintf("seat %d", i+2)
		}
		c.add(earsClear-r3.Norm(r3.Sub(l.Left, s.At)), "the left woofer is too close to the ears at %s", name)
		c.add(earsClear-r3.Norm(r3.Sub(l.Right, s.At)), "the right woofer is too close to the ears at %s", name)
	}
}

type breaches []Breach

// add notes a breach unless the amount is within a tenth of a millimetre.
func (c *breaches) add(amount float64, format string, args ...any) {
	if amount > 1e-4 {
		*c = append(*c, Breach{What: Sprintf(format, args...), Amount: amount})
	}
}

// angle notes a breach of an angle in rad at a radius in m.
func (c *breaches) angle(angle, radius float64, what string) {
	if angle*radius > 1e-4 {
		*c = append(*c, Breach{What: what, Amount: angle * radius, Angle: angle})
	}
}

func (c *breaches) speaker(p *Project, name string, at r3.Vec) {
	s, size := &p.Speakers, p.Room.Size
	cab := s.Cabinet(at)
	c.add(s.RearClearance-cab.Min.X, "%s speaker's back is too near the front wall", name)
	c.add(s.SideClearance-cab.Min.Y, "%s speaker is too near the left wall", name)
	c.add(cab.Max.Y-(size.Y-s.SideClearance), "%s speaker is too near the right wall", name)
	c.add(cab.Max.X-size.X, "%s speaker is beyond the back wall", name)
	c.add(-cab.Min.Z, "%s speaker's box is below the floor", name)
	c.add(cab.Max.Z-size.Z, "%s speaker's box is above the ceiling", name)
	if !p.Room.Plain() {
		room := s.withClearance(cab)
		c.add(p.Room.beyondPlan(room), "%s speaker is too near a wall of the floor plan", name)
		c.add(cab.Max.Z-p.Room.CeilingOver(cab), "%s speaker's box is above the sloped ceiling", name)
	}
	c.add(outside(s.Zones, at), "%s speaker is outside the zones where speakers may stand", name)
	for b := range p.obstacles() {
		c.add(depth(cab, b), "%s speaker's box is inside %q", name, b.Name)
	}
}

func (c *breaches) seat(p *Project, at r3.Vec) {
	size := p.Room.Size
	c.add(max(-at.X, -at.Y, -at.Z, at.X-size.X, at.Y-size.Y, at.Z-size.Z), "the seat is outside the room")
	if p.Room.Plain() {
		c.add(at.X-(size.X-p.Listening.BackDistance), "the seat is too near the back wall")
	} else {
		v := r2.Vec{X: at.X, Y: at.Y}
		c.add(p.Room.beyondPlan(point(at)), "the seat is outside the floor plan")
		c.add(p.Listening.BackDistance-p.Room.Plan().Ahead(v), "the seat is too near the wall behind it")
		c.add(at.Z-p.Room.CeilingAt(v), "the ears are above the sloped ceiling")
	}
	if len(p.Seats) > 0 {
		c.add(outside(p.Seats[0].Zones, at), "the seat is outside the zones where it may be")
	}
	ears := point(at)
	for b := range p.obstacles() {
		c.add(depth(ears, b), "the seat is inside %q", b.Name)
	}
}

func (c *breaches) triangle(p *Project, l Layout) {
	left, right := Plan(l.Left, l.Seat), Plan(l.Right, l.Seat)
	distance, wide, apart := p.SeatDistance(), p.SpeakersApart(), Plan(l.Left, l.Right)
	for _, side := range []struct {
		name string
		d    float64
	}{{"left", left}, {"right", right}} {
		c.add(below(distance, side.d), "the seat is too near the %s speaker", side.name)
		c.add(above(distance, side.d), "the seat is too far from the %s speaker", side.name)
	}
	if !p.Speakers.Fixed {
		c.add(below(wide, apart), "the speakers are too near each other")
		c.add(above(wide, apart), "the speakers are too far apart")
	}
	c.add(math.Abs(left-right)-p.SeatBalance(), "the seat's distances to the two speakers differ too much")
	angle := l.Angle()
	radius := (left + right) / 2
	c.angle(below(p.Listening.Angle, angle), radius, "the angle between the speakers is too narrow")
	c.angle(above(p.Listening.Angle, angle), radius, "the angle between the speakers is too wide")
	c.add(max(l.Left.X, l.Right.X)-l.Seat.X, "the seat is not behind the speakers")
}

// Angle returns the included angle at the seat between the two speakers on plan,
// in rad.
func (l Layout) Angle() float64 {
	a := math.Atan2(l.Left.Y-l.Seat.Y, l.Left.X-l.Seat.X)
	b := math.Atan2(l.Right.Y-l.Seat.Y, l.Right.X-l.Seat.X)
	d := math.Abs(a - b)
	return min(d, 2*math.Pi-d)
}

// Plan returns the distance between two places on the floor plan in m.
func Plan(a, b r3.Vec) float64 { return math.Hypot(a.X-b.X, a.Y-b.Y) }

// outside returns how far on plan p is from the nearest of the zones in m; 0
// inside one, or if there are none.
func outside(zones []Zone, p r3.Vec) float64 {
	if len(zones) == 0 {
		return 0
	}
	best := math.Inf(1)
	for _, z := range zones {
		dx := max(below(z.X, p.X), above(z.X, p.X))
		dy := max(below(z.Y, p.Y), above(z.Y, p.Y))
		best = min(best, math.Hypot(dx, dy))
	}
	return best
}

func below(r Range, v float64) float64 {
	if !r.Given() {
		return 0
	}
	return max(0, r.Min-v)
}

func above(r Range, v float64) float64 {
	if !r.Given() {
		return 0
	}
	return max(0, v-r.Max)
}

// depth returns the shortest shift in m along x or y that frees a from b; 0 if
// they do not overlap.
func depth(a, b Block) float64 {
	if !a.Overlaps(b) {
		return 0
	}
	return min(a.Max.X-b.Min.X, b.Max.X-a.Min.X, a.Max.Y-b.Min.Y, b.Max.Y-a.Min.Y)
}

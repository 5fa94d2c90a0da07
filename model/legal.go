package model

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// PresentBreaches returns the constraints that the present places break; nil if the project
// does not say where things are.
func (p *Project) PresentBreaches() []Breach {
	now, ok := p.Now()
	if !ok {
		return nil
	}
	return p.Breaches(now)
}

// The least distances of every layout, whatever the project asks for, in m. Any closer and
// the pair is one source, or the ears are beside a woofer; no engine here models a box that
// near. These and FreeBalance are common practice, no source.
const (
	LeastApart    = 0.40 // between the woofers, or a box's width where that is more
	LeastDistance = 0.50 // from the seat to each woofer
	FreeBalance   = 0.05 // most that the seat's two distances differ for a free pair, or where it moves along the mid-line
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
	case p.Speakers.Free || p.seatOnMidline():
		return FreeBalance
	}
	return math.Inf(1)
}

// seatOnMidline reports whether the main seat may move, but only along the mid-line of a mirrored pair.
func (p *Project) seatOnMidline() bool {
	s := &p.Speakers
	return !s.Fixed && !s.Free && len(p.Seats) > 0 && len(p.Seats[0].Zones) > 0 &&
		!slices.ContainsFunc(p.Seats[0].Zones, func(z Zone) bool { return z.Y.Given() })
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
		c.speaker(p, LeftSide, l)
		c.speaker(p, RightSide, l)
		c.listeners(p, l)
	}
	c.seat(p, l)
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

// EarsClear is how far woofers keep from the ears at every other seat, m: nobody sits inside a
// loudspeaker. The seat that moves has its listening distance. Our own choice, no source.
const EarsClear = 0.5

// listeners notes woofers at the ears of the seats beside the main one.
func (c *breaches) listeners(p *Project, l Layout) {
	if len(p.Seats) < 2 {
		return
	}
	for i, s := range p.Seats[1:] {
		if !s.Placed {
			continue
		}
		ears := p.SeatAt(i+1, l)
		r := Rule{Kind: SpeakerEars, Name: s.Name}
		if s.Name == "" {
			r.Seat = i + 2
		}
		for side, woofer := range [...]r3.Vec{l.Left, l.Right} {
			r.Side = Side(side)
			c.add(EarsClear-r3.Norm(r3.Sub(woofer, ears)), r)
		}
	}
}

func (c *breaches) speaker(p *Project, side Side, l Layout) {
	at := [...]r3.Vec{l.Left, l.Right}[side]
	s, size := &p.Speakers, p.Room.Size
	add := func(amount float64, kind RuleKind) { c.add(amount, Rule{Kind: kind, Side: side}) }
	cab := s.Cabinet(at)
	add(s.RearClearance-cab.Min.X, SpeakerRear)
	add(s.SideClearance-cab.Min.Y, SpeakerLeftWall)
	add(cab.Max.Y-(size.Y-s.SideClearance), SpeakerRightWall)
	add(cab.Max.X-size.X, SpeakerBeyond)
	add(-cab.Min.Z, SpeakerFloor)
	add(cab.Max.Z-size.Z, SpeakerCeiling)
	if !p.Room.Plain() {
		room := s.withClearance(cab)
		add(p.Room.beyondPlan(room), SpeakerPlan)
		add(cab.Max.Z-p.Room.CeilingOver(cab), SpeakerSlope)
	}
	add(outside(s.Zones, at), SpeakerZone)
	stand := s.stand(cab)
	for b := range p.ObstaclesIn(l) {
		in := depth(cab, b)
		c.add(in, Rule{Kind: SpeakerObstacle, Side: side, Name: b.Name})
		if in == 0 && !p.carries(&b) {
			c.add(depth(stand, b), Rule{Kind: SpeakerStand, Side: side, Name: b.Name})
		}
	}
}

func (c *breaches) seat(p *Project, l Layout) {
	at := l.Seat
	size := p.Room.Size
	c.add(max(-at.X, -at.Y, -at.Z, at.X-size.X, at.Y-size.Y, at.Z-size.Z), Rule{Kind: SeatRoom})
	if p.Room.Plain() {
		c.add(at.X-(size.X-p.Listening.BackDistance), Rule{Kind: SeatBackWall})
	} else {
		v := r2.Vec{X: at.X, Y: at.Y}
		c.add(p.Room.beyondPlan(point(at)), Rule{Kind: SeatPlan})
		c.add(p.Listening.BackDistance-p.Room.Plan().Ahead(v), Rule{Kind: SeatWallBehind})
		c.add(at.Z-p.Room.CeilingAt(v), Rule{Kind: SeatSlope})
	}
	if len(p.Seats) > 0 {
		c.add(outside(p.Seats[0].Zones, at), Rule{Kind: SeatZone})
	}
	ears := point(at)
	for b := range p.ObstaclesIn(l) {
		c.add(depth(ears, b), Rule{Kind: SeatObstacle, Name: b.Name})
	}
	for i := range p.Seats {
		if p.TiedSeat(i) {
			c.mate(p, i, p.SeatAt(i, l))
		}
	}
}

// mate notes a seat that goes with the main one to where nobody can sit.
func (c *breaches) mate(p *Project, i int, at r3.Vec) {
	r := Rule{Kind: SeatMate, Name: p.Seats[i].Name}
	if r.Name == "" {
		r.Seat = i + 1
	}
	size, v := p.Room.Size, r2.Vec{X: at.X, Y: at.Y}
	out := max(-at.X, -at.Y, at.Y-size.Y, at.X-(size.X-p.Listening.BackDistance))
	if !p.Room.Plain() {
		out = max(p.Room.beyondPlan(point(at)), p.Listening.BackDistance-p.Room.Plan().Ahead(v), at.Z-p.Room.CeilingAt(v))
	}
	c.add(out, r)
}

func (c *breaches) triangle(p *Project, l Layout) {
	left, right := Plan(l.Left, l.Seat), Plan(l.Right, l.Seat)
	distance, wide, apart := p.SeatDistance(), p.SpeakersApart(), Plan(l.Left, l.Right)
	for side, d := range [...]float64{left, right} {
		c.add(below(distance, d), Rule{Kind: SeatNear, Side: Side(side)})
		c.add(above(distance, d), Rule{Kind: SeatFar, Side: Side(side)})
	}
	if !p.Speakers.Fixed {
		c.add(below(wide, apart), Rule{Kind: SpeakersNear})
		c.add(above(wide, apart), Rule{Kind: SpeakersFar})
	}
	c.add(math.Abs(left-right)-p.SeatBalance(), Rule{Kind: SeatUneven})
	angle := l.Angle()
	radius := (left + right) / 2
	c.angle(below(p.Listening.Angle, angle), radius, AngleNarrow)
	c.angle(above(p.Listening.Angle, angle), radius, AngleWide)
	c.add(max(l.Left.X, l.Right.X)-l.Seat.X, Rule{Kind: SeatAhead})
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

package model

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Tie says what a thing goes along with when a search moves speakers and seat.
type Tie int

// The ties. The zero value is none.
const (
	Untied       Tie = iota
	WithSpeakers     // with the middle between the two speakers
	WithSeat         // with the main seat
)

// String returns the word of the room file: "speakers", "seat"; "nothing" for the zero value.
func (t Tie) String() string {
	if t < Untied || t > WithSeat {
		return fmt.Sprintf("Tie(%d)", int(t))
	}
	return [...]string{"nothing", "speakers", "seat"}[t]
}

// Reach is how far a box of air may be moved to the front or to the back, and what it goes with.
type Reach struct {
	With    Tie
	Along   float64 // m, either way; 0 is not at all
	Carries bool    // the speakers may stand on it
}

// Moves reports whether the box is elsewhere in some layouts.
func (r Reach) Moves() bool { return r.With != Untied || r.Along > 0 }

// SeatAt returns where the ears at seat i are in a layout, which has a place: at the layout's for
// the main seat; as far from there as now for a seat on the same piece of furniture; else where
// it is.
func (p *Project) SeatAt(i int, l Layout) r3.Vec {
	main, s := &p.Seats[0], &p.Seats[i]
	switch {
	case i == 0:
		return l.Seat
	case p.TiedSeat(i):
		return r3.Add(s.At, onPlan(main.At, l.Seat))
	}
	return s.At
}

// TiedSeat reports whether seat i is on one piece of furniture with the main seat, and so goes
// where that goes.
func (p *Project) TiedSeat(i int) bool {
	return i > 0 && p.Seats[i].On != "" && p.Seats[i].On == p.Seats[0].On && p.Seats[0].Placed && p.Seats[i].Placed
}

// onPlan returns the way from one place to another on the floor.
func onPlan(from, to r3.Vec) r3.Vec { return r3.Vec{X: to.X - from.X, Y: to.Y - from.Y} }

// BlockIn returns a box of air as it stands in a layout: with what it goes along with or, if it
// may be moved by itself, as near to its present place as speakers and seat leave it.
func (p *Project) BlockIn(b Block, l Layout) Block {
	switch {
	case b.With == WithSpeakers && p.Speakers.Placed:
		s := &p.Speakers
		d := onPlan(s.Left, l.Left)
		return b.shifted(r3.Scale(0.5, r3.Add(d, onPlan(s.Right, l.Right))))
	case b.With == WithSeat && len(p.Seats) > 0 && p.Seats[0].Placed:
		return b.shifted(onPlan(p.Seats[0].At, l.Seat))
	case b.Along > 0:
		return p.outOfTheWay(b, l)
	}
	return b
}

// shifted returns the block moved by d.
func (b Block) shifted(d r3.Vec) Block {
	b.Min, b.Max = r3.Add(b.Min, d), r3.Add(b.Max, d)
	return b
}

// outOfTheWay returns a block moved along the room by no more than it may be, and no farther than it
// must, so that it is least in the way of speakers and seat. It stays in the room.
func (p *Project) outOfTheWay(b Block, l Layout) Block {
	bodies := [5]Block{p.Speakers.Cabinet(l.Left), p.Speakers.Cabinet(l.Right), point(l.Seat)}
	n := 3
	if !p.carries(&b) {
		bodies[3], bodies[4] = p.Speakers.stand(bodies[0]), p.Speakers.stand(bodies[1])
		n = 5
	}
	best, least := b, math.Inf(1)
	try := func(d float64) {
		if math.Abs(d) > b.Along+slack || b.Min.X+d < min(0, b.Min.X)-slack || b.Max.X+d > max(p.Room.Size.X, b.Max.X)+slack {
			return
		}
		moved := b.shifted(r3.Vec{X: d})
		in := 1e-3 * math.Abs(d) // of places that are as good, the nearest
		for _, body := range bodies[:n] {
			in += depth(body, moved)
		}
		if in < least {
			best, least = moved, in
		}
	}
	try(0)
	for _, body := range bodies[:n] {
		try(body.Min.X - b.Max.X)
		try(body.Max.X - b.Min.X)
	}
	try(-b.Along)
	try(b.Along)
	return best
}

// stand returns what is below a box: the column down to the floor.
func (s *Speakers) stand(cab Block) Block {
	cab.Max.Z, cab.Min.Z = cab.Min.Z, min(0, cab.Min.Z)
	return cab
}

// Carried reports whether speakers may stand on a thing, see [Block]: no stand goes through it then.
func (p *Project) Carried(b Block) bool { return p.carries(&b) }

// carries reports whether the speakers stand on a thing, so that no stand goes through it: the file
// says so, they go together, or one of them is above it now. Nothing is known of the stand of a box
// without a size.
func (p *Project) carries(b *Block) bool {
	s := &p.Speakers
	if b.Carries || b.With == WithSpeakers || s.Box == (Dimensions{}) {
		return true
	}
	return s.Placed && (b.Overlaps(s.stand(s.Cabinet(s.Left))) || b.Overlaps(s.stand(s.Cabinet(s.Right))))
}

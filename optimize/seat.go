package optimize

import (
	"fmt"

	"evenbass/model"
	"evenbass/model/response"
	"gonum.org/v1/gonum/spatial/r3"
)

// SeatFigures holds how a layout does at one seat.
type SeatFigures struct {
	Name   string
	At     r3.Vec      // between the ears, m
	Weight float64     // in the score; the weights of all seats sum to 1
	Spread model.Level // with everything exactly in place, dB

	// Counted is the spread that counts for the seat: the robust one at the main seat; at
	// any other the mean over the ears as marked and four places around, each off by
	// SeatOffset along x or y.
	Counted model.Level
}

// SeatOffset is how far from the mark the ears at a seat other than the main one may be, m:
// people on a sofa do not sit on a mark.
const HeadBox = 0.15

// others returns the seats beside the main one.
func others(p *model.Project) []model.Seat {
	if len(p.Seats) < 2 {
		return nil
	}
	return p.Seats[1:]
}

// seatPlace returns where a seat beside the main one is judged: where it is or, if it has no
// place yet, in the middle of its first zone.
func seatPlace(p *model.Project, s model.Seat) r3.Vec {
	if s.Placed {
		return s.At
	}
	at := r3.Vec{X: p.Room.Size.X / 2, Y: p.Room.Size.Y / 2, Z: s.Height}
	if len(s.Zones) == 0 {
		return at
	}
	if z := s.Zones[0].X; z.Given() {
		at.X = (z.Min + z.Max) / 2
	}
	if z := s.Zones[0].Y; z.Given() {
		at.Y = (z.Min + z.Max) / 2
	}
	return tidyVec(at)
}

// seatWeights returns the weights of all seats, the main one first, scaled to sum 1.
func shares(p *model.Project) []float64 {
	list := make([]float64, len(p.Seats))
	var sum float64
	for i, s := range p.Seats {
		list[i] = s.Weight
		sum += s.Weight
	}
	if sum == 0 { // a project without weights
		list[0], sum = 1, 1
	}
	for i := range list {
		list[i] /= sum
	}
	return list
}

// aroundSeat returns a place of the ears and the four places around in which they may be.
func headBox(at, size r3.Vec) [5]r3.Vec {
	return (&scorer{shift: HeadBox, size: size}).around(at)
}

// otherPlaces lists where the ears at the seats beside the main one may be.
func otherPlaces(p *model.Project) []r3.Vec {
	var list []r3.Vec
	for _, seat := range others(p) {
		box := headBox(seatPlace(p, seat), p.Room.Size)
		list = append(list, box[:]...)
	}
	return list
}

// seatScorer computes the figures of one seat beside the main one.
type seatScorer struct {
	places [5]r3.Vec
	scorer *scorer
}

// plainAt returns the spread of a layout with the ears at a place.
func (s *scorer) plainAt(head r3.Vec, l model.Layout) (model.Level, error) {
	d := s.workspaces.Get().(*workspace)
	defer s.workspaces.Put(d)
	field, err := s.engine.Field(head)
	if err != nil {
		return 0, err
	}
	field.Transfer(d.left[0], l.Left)
	field.Transfer(d.right[0], l.Right)
	l.Seat = head
	return checked(s.spread(d, 0, 0), l)
}

// counted returns the spread that counts for the seat.
func (n *seatScorer) counted(l model.Layout) (model.Level, error) {
	var sum model.Level
	for _, head := range n.places {
		v, err := n.scorer.plainAt(head, l)
		if err != nil {
			return 0, err
		}
		sum += v
	}
	return sum / model.Level(len(n.places)), nil
}

// seatScorers returns the scorers of the seats beside the main one, by the given engine.
func seatScorers(p *model.Project, e model.Engine) []seatScorer {
	s := newScorer(e, p.Goal, HeadBox, p.Room.Size)
	var list []seatScorer
	for _, seat := range others(p) {
		list = append(list, seatScorer{headBox(seatPlace(p, seat), p.Room.Size), s})
	}
	return list
}

// seatName returns the name of a seat; n counts from 0, the main one.
func seatName(s model.Seat, n int) string {
	if s.Name != "" {
		return s.Name
	}
	return fmt.Sprintf("seat %d", n+1)
}

// fillSeats computes the figures of all seats of a candidate that has those of the main one,
// by an engine that answers at every seat.
func (c *Candidate) fillSeats(p *model.Project, b *banded) error {
	c.Score = c.Robust
	if len(others(p)) == 0 {
		return nil
	}
	share := shares(p)
	c.Seats = []SeatFigures{{
		Name: seatName(p.Seats[0], 0), At: c.Layout.Seat, Weight: share[0], Spread: c.Judgement.Spread(), Counted: c.Robust,
	}}
	curves := [][]model.Level{c.Judgement.Curves[response.BothTogether][b.lo:b.hi]}
	c.Score = model.Level(share[0]) * c.Robust
	for i, n := range seatScorers(p, b) {
		seat := p.Seats[i+1]
		l := c.Layout
		l.Seat = n.places[0]
		pair, err := n.scorer.pair(l)
		if err != nil {
			return err
		}
		f := SeatFigures{Name: seatName(seat, i+1), At: l.Seat, Weight: share[i+1], Spread: n.scorer.reader.Spread(pair, new(response.Scratch))}
		if f.Counted, err = n.counted(c.Layout); err != nil {
			return err
		}
		c.Score += model.Level(f.Weight) * f.Counted
		c.Seats = append(c.Seats, f)
		curves = append(curves, n.scorer.reader.Smooth(pair.Of(response.BothTogether)))
	}
	c.Between = b.reader(p.Goal).Between(curves)
	return nil
}

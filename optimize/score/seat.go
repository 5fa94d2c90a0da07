package score

import (
	"context"
	"fmt"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/geometry"

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
const SeatOffset = 0.15

// OtherSeats returns the seats beside the main one.
func OtherSeats(p *model.Project) []model.Seat {
	if len(p.Seats) < 2 {
		return nil
	}
	return p.Seats[1:]
}

// SeatPlace returns where seat i, not the main one, is judged in a layout: where it is, with the
// main seat if they share a piece of furniture or, if it has no place yet, in the middle of its
// first zone.
func SeatPlace(p *model.Project, i int, l model.Layout) r3.Vec {
	s := &p.Seats[i]
	if s.Placed {
		return geometry.Inside(p.SeatAt(i, l), p.Room.Size)
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
	return geometry.RoundVec(at)
}

// SeatWeights returns the weights of all seats, the main one first, scaled to sum 1.
func SeatWeights(p *model.Project) []float64 {
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

// AroundSeat returns a place of the ears and the four places around in which they may be.
func AroundSeat(at, size r3.Vec) [5]r3.Vec {
	return Around(at, SeatOffset, size)
}

// OtherPlaces lists where the ears at the seats beside the main one may be in a layout.
func OtherPlaces(p *model.Project, l model.Layout) []r3.Vec {
	var list []r3.Vec
	for i := range OtherSeats(p) {
		box := AroundSeat(SeatPlace(p, i+1, l), p.Room.Size)
		list = append(list, box[:]...)
	}
	return list
}

// SeatScorer computes the figures of one seat beside the main one.
type SeatScorer struct {
	Project *model.Project
	Number  int // of the seat in the project, from 1
	Scorer  *Scorer

	// About, if set, returns the scorer for ears at and around a place instead.
	About func(ctx context.Context, at r3.Vec) (*Scorer, error)
}

// Places returns where the ears may be in a layout, the mark first.
func (n *SeatScorer) Places(l model.Layout) [5]r3.Vec {
	return AroundSeat(SeatPlace(n.Project, n.Number, l), n.Project.Room.Size)
}

// PlainAt returns the spread of a layout with the ears at a place.
func (s *Scorer) PlainAt(ctx context.Context, head r3.Vec, l model.Layout) (model.Level, error) {
	d := s.workspaces.Get().(*workspace)
	defer s.workspaces.Put(d)
	field, err := s.Engine.Field(ctx, head)
	if err != nil {
		return 0, err
	}
	s.read(d, &d.left[0], field, l.Left)
	s.read(d, &d.right[0], field, l.Right)
	l.Seat = head
	return Finite(s.spread(d, 0, 0), l)
}

// Counted returns the spread that counts for the seat.
func (n *SeatScorer) Counted(ctx context.Context, l model.Layout) (model.Level, error) {
	places, scorer := n.Places(l), n.Scorer
	if n.About != nil {
		var err error
		if scorer, err = n.About(ctx, places[0]); err != nil {
			return 0, err
		}
	}
	var sum model.Level
	for _, head := range places {
		v, err := scorer.PlainAt(ctx, head, l)
		if err != nil {
			return 0, err
		}
		sum += v
	}
	return sum / model.Level(len(places)), nil
}

// SeatScorers returns the scorers of the seats beside the main one, by the given engine.
func SeatScorers(p *model.Project, e model.Engine) []SeatScorer {
	s := NewScorer(e, p, SeatOffset)
	var list []SeatScorer
	for i := range OtherSeats(p) {
		list = append(list, SeatScorer{Project: p, Number: i + 1, Scorer: s})
	}
	return list
}

// SeatName returns the name of a seat; n counts from 0, the main one.
func SeatName(s model.Seat, n int) string {
	if s.Name != "" {
		return s.Name
	}
	return fmt.Sprintf("seat %d", n+1)
}

// fillSeats computes the figures of all seats of a candidate that has those of the main one,
// by an engine that answers at every seat.
func (c *Candidate) fillSeats(ctx context.Context, p *model.Project, b *Band) error {
	c.Score = c.Robust
	if len(OtherSeats(p)) == 0 {
		return nil
	}
	share := SeatWeights(p)
	c.Seats = []SeatFigures{{
		Name: SeatName(p.Seats[0], 0), At: c.Layout.Seat, Weight: share[0], Spread: c.Judgement.Spread(), Counted: c.Robust,
	}}
	curves := [][]model.Level{c.Judgement.Curves[response.BothTogether][b.Lo:b.Hi]}
	c.Score = model.Level(share[0]) * c.Robust
	for i, n := range SeatScorers(p, b) {
		seat := p.Seats[i+1]
		l := c.Layout
		l.Seat = n.Places(l)[0]
		pair, err := n.Scorer.Pair(ctx, l)
		if err != nil {
			return err
		}
		f := SeatFigures{Name: SeatName(seat, i+1), At: l.Seat, Weight: share[i+1], Spread: n.Scorer.Reader.Spread(pair, new(response.Scratch))}
		if f.Counted, err = n.Counted(ctx, c.Layout); err != nil {
			return err
		}
		c.Score += model.Level(f.Weight) * f.Counted
		c.Seats = append(c.Seats, f)
		curves = append(curves, n.Scorer.Reader.Smooth(pair.Of(response.BothTogether)))
	}
	c.Between = NewReader(b, p).Between(curves)
	return nil
}

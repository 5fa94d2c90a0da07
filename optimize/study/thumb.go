package study

import (
	"context"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/wave"
	"evenbass/optimize/engines"
	"evenbass/optimize/floormap"
	"evenbass/optimize/score"
)

// ThumbShare is where along the room rules of thumb put the ears. Common practice, no source.
const ThumbShare = 0.38

// Thumb is the layout by rules of thumb.
type Thumb struct {
	Layout model.Layout
	Spread model.Level // everything exactly in place, dB
	Breaks bool        // a rule of the room file
}

// thumb evaluates the layout by rules of thumb: ears on the mid-line at [ThumbShare] of the length,
// an equilateral triangle, as wide as a layout found, so that both differ in places alone. It is
// nil if a mark would not be in the room's air, or the context ends.
func (s *Study) thumb(ctx context.Context, found model.Layout) *Thumb {
	size, wide := s.Project.Room.Size, model.Plan(found.Left, found.Right)
	l := found
	l.Seat.X, l.Seat.Y = ThumbShare*size.X, size.Y/2
	front := l.Seat.X - wide*math.Sqrt(3)/2
	l.Left.X, l.Right.X, l.Left.Y, l.Right.Y = front, front, (size.Y-wide)/2, (size.Y+wide)/2
	for _, v := range []r3.Vec{l.Left, l.Right, l.Seat} {
		if v.X <= 0.1 || !floormap.InAir(&s.Project.Room, v) {
			return nil
		}
	}
	engine := s.Engine
	if room, ok := engine.(*wave.Room); ok {
		about, err := room.Over([]model.Block{engines.PlaceZone(l.Left), engines.PlaceZone(l.Right)})
		if err != nil {
			return nil
		}
		engine = about
	}
	pair, err := score.PairAt(ctx, engine, l)
	if err != nil {
		return nil
	}
	spread := score.NewReader(engine, s.Project).Card(pair, nil).Spread
	return &Thumb{Layout: l, Spread: spread, Breaks: s.Project.Violation(l) > 0}
}

package study

import (
	"context"
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/wave"
	"evenbass/optimize/floormap"
	"evenbass/optimize/score"
)

// Survey maps the floor for the speakers as they stand, which the project must say. Levels are
// mapped at the frequencies given, or at the worst dips and the strongest peak.
func (s *Study) Survey(ctx context.Context, at model.Grid, progress model.Progress) (*floormap.Survey, error) {
	layout, seated := s.present()
	out, err := s.survey(ctx, layout, seated, floormap.Settings{Frequencies: at, Progress: progress})
	if err != nil {
		return nil, err
	}
	var shown []*score.Candidate
	for i := range out.Cards {
		shown = append(shown, &out.Cards[i])
	}
	return out, s.setCards(ctx, shown...)
}

// present returns the layout as things stand. Without a place for the seat it has the height of
// the ears alone.
func (s *Study) present() (l model.Layout, seated bool) {
	if l, ok := s.Project.Now(); ok {
		return l, true
	}
	p := &s.Project.Speakers
	l = model.Layout{Left: p.Left, Right: p.Right, AxisHeight: p.Left.Z + p.WooferBelow}
	l.Seat.Z = s.Project.Seats[0].Height
	return l, false
}

// survey maps the floor about a layout.
func (s *Study) survey(ctx context.Context, l model.Layout, seated bool, settings floormap.Settings) (*floormap.Survey, error) {
	engine := s.Engine
	if room, ok := s.Engine.(*wave.Room); ok {
		floor, err := room.Over(surveyZones(s.Project.Room.Size, l))
		if err != nil {
			return nil, fmt.Errorf("the wave solver cannot map this room: %w", err)
		}
		engine = floor
	}
	return floormap.New(ctx, s.Project, engine, l, seated, settings)
}

// surveyZones returns where a survey asks for answers: the floor at the height of the ears, and
// boxes about the speakers.
func surveyZones(size r3.Vec, l model.Layout) []model.Block {
	d := r3.Vec{X: floormap.Reach, Y: floormap.Reach}
	about := func(v r3.Vec) model.Block { return model.Block{Min: r3.Sub(v, d), Max: r3.Add(v, d)} }
	return []model.Block{
		{Min: r3.Vec{Z: l.Seat.Z}, Max: r3.Vec{X: size.X, Y: size.Y, Z: l.Seat.Z}}, about(l.Left), about(l.Right),
	}
}

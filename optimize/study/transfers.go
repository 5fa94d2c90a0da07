package study

import (
	"context"
	"fmt"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/model/wave"
	"evenbass/optimize/engines"
)

// Transfers are what arrives from each speaker of a layout, at frequencies that suit a table:
// a spline through its levels gives the response in between, see [response.Rows].
type Transfers struct {
	Grid model.Grid
	Pair response.Pair // as the speakers play it, with their roll-off
}

// Transfers computes the transfers of a layout for a table. The wave solver takes one
// more run, to its end.
func (s *Study) Transfers(ctx context.Context, l model.Layout) (*Transfers, error) {
	grid := response.RowGrid(s.Project.Goal, engines.SlowestDecay(ctx, s.Project))
	e, err := s.over(grid, l)
	if err != nil {
		return nil, err
	}
	field, err := e.Field(ctx, l.Seat)
	if err != nil {
		return nil, err
	}
	pair := response.Pair{Left: field.Transfer(nil, l.Left), Right: field.Transfer(nil, l.Right)}
	var out Transfers
	out.Grid, out.Pair = response.Rows(grid, pair.Through(s.Project.Speakers.RollOff(), grid))
	return &out, nil
}

// over returns the study's engine over other frequencies, for one layout.
func (s *Study) over(grid model.Grid, l model.Layout) (model.Engine, error) {
	if s.Kind != model.WaveEngine {
		return engines.OverBox(s.Kind, *s.Box, grid)
	}
	room, err := s.Engine.(*wave.Room).Unsmoothed(grid, []model.Block{engines.PlaceZone(l.Left), engines.PlaceZone(l.Right)})
	if err != nil {
		return nil, fmt.Errorf("the table's frequencies: %w", err)
	}
	return room, nil
}

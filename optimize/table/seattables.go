package table

import (
	"context"
	"evenbass/model"
	"evenbass/optimize/score"

	"gonum.org/v1/gonum/spatial/r3"
)

// Seats is an engine with a table for each of a few seats.
type Seats struct {
	*score.Band
	Tables []*Engine
}

func (t Seats) at(seat r3.Vec) *Engine {
	for _, one := range t.Tables {
		if one.Seats.holds(seat) {
			return one
		}
	}
	return nil
}

// Field implements [model.Engine].
func (t Seats) Field(ctx context.Context, seat r3.Vec) (model.Field, error) {
	if one := t.at(seat); one != nil {
		return one.Field(ctx, seat)
	}
	return t.Band.Field(ctx, seat)
}

package optimize

import (
	"evenbass/model"
	"gonum.org/v1/gonum/spatial/r3"
)

// seatTables is an engine with a table for each of a few seats.
type seatTables struct {
	*banded
	tables []*table
}

func (t seatTables) at(seat r3.Vec) *table {
	for _, one := range t.tables {
		if one.seats.holds(seat) {
			return one
		}
	}
	return nil
}

// Field implements [model.Engine].
func (t seatTables) Field(seat r3.Vec) (model.Field, error) {
	if one := t.at(seat); one != nil {
		return one.Field(seat)
	}
	return t.banded.Field(seat)
}

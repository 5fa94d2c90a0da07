package observation

import (
	"context"
	"fmt"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/model/measure/calibration"
	"evenbass/optimize/engines"
)

// Calibrate fits a project's room to measurements of one state of it; see [calibration.Fit]. Modes solve a
// plain room with uniform walls. The wave solver on coarse cells solves any other: that takes minutes and
// does not fit the size. Calibrate refuses measurements of different states.
func Calibrate(ctx context.Context, p *model.Project, list []*measure.Measurement, progress model.Progress) (*calibration.Result, error) {
	if len(list) == 0 {
		return nil, calibration.ErrNoData
	}
	first := list[0]
	for _, m := range list {
		if m.StateKnown != first.StateKnown || !sameNames(m.State, first.State) {
			return nil, fmt.Errorf("%q and %q were made with other treatments in the room; give measurements of one state", first.Name, m.Name)
		}
	}
	room := inState(p, first.State, first.StateKnown)
	settings := calibration.Settings{Places: placesFor(room, manyShares), Progress: progress}
	if engines.Irregular(&room.Room) != "" {
		settings.Places = placesFor(room, fewShares)
		settings.Solver = func(r *model.Room, microphones []r3.Vec) (calibration.Solver, error) {
			return newRoomSolver(r, p.Memory, [2]r3.Vec{p.Speakers.Left, p.Speakers.Right}, microphones), nil
		}
	}
	return calibration.Fit(ctx, room, list, settings)
}

// sameNames reports whether two lists hold the same names in any order.
func sameNames(a, b []string) bool {
	a, b = slices.Sorted(slices.Values(a)), slices.Sorted(slices.Values(b))
	return slices.Equal(a, b)
}

package study

import (
	"context"
	"fmt"
	"slices"

	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/model/measure/calibration"
)

// Calibrate fits a project's room to measurements of one state of it; see [calibration.Fit]. It
// solves plain rooms with even walls: any other room, or one whose measurements were made in different
// states, is an error that says what would help.
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
	if why := irregular(&room.Room); why != "" {
		return nil, fmt.Errorf("only a plain room with even walls can be calibrated so far: %s; measure without treatments and give the measurements the state bare", why)
	}
	return calibration.Fit(ctx, room, list, progress)
}

// sameNames reports whether two lists hold the same names in any order.
func sameNames(a, b []string) bool {
	a, b = slices.Sorted(slices.Values(a)), slices.Sorted(slices.Values(b))
	return slices.Equal(a, b)
}

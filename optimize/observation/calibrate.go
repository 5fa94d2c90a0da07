package observation

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/model/measure/calibration"
	"evenbass/optimize/engines"
	"evenbass/optimize/floormap"
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

// Where a microphone may stand for the next measurement beside the seats: shares of the room's
// length and width, at the main seat's height. Modes are loudest near walls and softest in the
// middle.
var (
	manyShares = []float64{0.2, 0.5, 0.8}
	fewShares  = []float64{0.22, 0.78} // where each place costs a run of the wave solver
)

// placesFor returns where a microphone may stand in a project's room. Seats that are known come first.
func placesFor(p *model.Project, shares []float64) []calibration.Place {
	var list []calibration.Place
	if len(p.Seats) == 0 {
		return nil
	}
	for _, s := range p.Seats {
		if s.Placed {
			list = append(list, calibration.Place{Seat: s.Name, At: s.At})
		}
	}
	height := p.Seats[0].Height
	tape := func(v float64) float64 { return math.Round(v*20) / 20 } // to 5 cm
	for _, x := range shares {
		for _, y := range shares {
			at := r3.Vec{X: tape(x * p.Room.Size.X), Y: tape(y * p.Room.Size.Y), Z: height}
			if floormap.InAir(&p.Room, at) {
				list = append(list, calibration.Place{At: at})
			}
		}
	}
	return list
}

// teach estimates what one more measurement would add to those of a plain room. It returns nothing for other
// rooms; see [Present.Costly].
func teach(ctx context.Context, p *model.Project, list []*measure.Measurement) ([]calibration.Gain, error) {
	if engines.Irregular(&p.Room) != "" || !p.Speakers.Placed {
		return nil, nil
	}
	gains, err := calibration.Next(ctx, p, list, calibration.Settings{Places: placesFor(p, manyShares)})
	if errors.Is(err, calibration.ErrNoData) {
		return nil, nil
	}
	return gains, err
}

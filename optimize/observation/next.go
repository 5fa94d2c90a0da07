package observation

import (
	"context"
	"errors"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/model/measure/calibration"
	"evenbass/optimize/engines"
	"evenbass/optimize/floormap"
)

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

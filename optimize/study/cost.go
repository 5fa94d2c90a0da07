package study

import (
	"cmp"
	"context"
	"runtime"
	"time"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/model/wave"
	"evenbass/optimize"
	"evenbass/optimize/engines"
)

// A time estimate is a bound first, for the portable kernel on a busy machine. Only a bound
// beyond longBound is worth timing a run for.
const longBound = 20 * time.Second

// What estimates of time rest on; see MEASURED.md of package optimize.
const (
	exactCost  = 2.8    // how many runs on coarse cells one with the usual cell costs
	firstRun   = 1.4    // how much longer the first run takes than those after it, which reuse its memory
	ratingTime = 0.2e-3 // to rate a layout on one core, s
	sumTime    = 0.3e-9 // to add up each of a layout's numbers, s
	trialShare = 0.5    // of a coarse run that one of the trials takes in a room without treatments
)

// cost estimates how long the wave solver takes. Where its bound is long it times a coarse run
// on each core; a search makes use of these.
func (s *Study) cost(ctx context.Context, e optimize.Effort) (engines.Cost, error) {
	if s.coarse == nil {
		return engines.Cost{}, nil
	}
	cores := float64(runtime.GOMAXPROCS(0))
	runs := (float64(e.Wide) + exactCost*float64(e.Exact)) / cores
	rating := float64(e.Ratings) * (ratingTime + sumTime*e.Sums) / cores
	all := func(run float64) engines.Cost {
		return engines.Cost{Time: time.Duration((runs*run + rating) * float64(time.Second)), Cells: s.Engine.(*wave.Room).Cost().Cells}
	}
	if most := all(s.coarse.Cost().Seconds); most.Time < longBound {
		return most, nil
	}
	seats := e.First
	if len(seats) == 0 {
		seats = []r3.Vec{s.somewhere()}
	}
	start := time.Now()
	errs := make([]error, len(seats))
	var group concurrent.Group
	for i, seat := range seats {
		group.Go(func() { _, errs[i] = s.coarse.Field(ctx, seat) })
	}
	group.Wait()
	return all(time.Since(start).Seconds() / firstRun), cmp.Or(errs...)
}

// PredictCost estimates what [Study.Predict] takes: the layout itself and, on coarse cells, the
// hard and soft walls and each wall left out.
func (s *Study) PredictCost(ctx context.Context) (engines.Cost, error) {
	return s.cost(ctx, optimize.Effort{Exact: 4, Wide: 9})
}

// PlaceCost estimates what [Study.Place] takes, everything included. It fails as a search does.
func (s *Study) PlaceCost(ctx context.Context, settings PlaceSettings) (engines.Cost, error) {
	if s.Kind == model.ImageEngine {
		return engines.Cost{}, ErrImages
	}
	e, err := optimize.EffortOf(s.Project, s.Engine, s.search(settings))
	if err != nil {
		return engines.Cost{}, err
	}
	if _, ok := s.Project.Now(); ok {
		e.Wide += 9
		e.Exact++
	}
	e.Exact += settings.Layouts // for decays
	if settings.Series {
		e.Exact += s.seriesRuns()
		if settings.Options {
			e.Exact += len(s.changes(settings.Pairs)) * s.seriesRuns()
		}
	}
	e.Wide += 6 + 3*settings.Layouts + s.trialRuns(settings.Trials, settings.Layouts)
	return s.cost(ctx, e)
}

// SurveyCost estimates what [Study.Survey] takes.
func (s *Study) SurveyCost(ctx context.Context) (engines.Cost, error) {
	return s.cost(ctx, optimize.Effort{Exact: 5, Wide: 6})
}

// seatFields is how many places of the ears a search for subwoofers asks for at each seat: each
// takes one run of the wave solver.
const seatFields = 5

// SubwoofersCost estimates what [Study.Subwoofers] takes.
func (s *Study) SubwoofersCost(ctx context.Context) (engines.Cost, error) {
	n := len(s.Project.Seats)
	return s.cost(ctx, optimize.Effort{Exact: seatFields * n, Wide: 3 * n})
}

// trialRuns returns roughly how long the trials take, in coarse runs. The room is solved as it is,
// and with each wall and the wool at either end of its range. Each takes one run for each layout,
// for the present one and for each other seat.
func (s *Study) trialRuns(trials, layouts int) int {
	if trials == 0 || s.coarse == nil {
		return 0
	}
	share, ends := trialShare, 1+2*len(model.Faces)
	if len(s.Project.Room.Treatments) > 0 {
		share, ends = 1, ends+2
	}
	return int(share * float64(ends*(layouts+len(s.Project.Seats))))
}

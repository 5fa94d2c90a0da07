package study

import (
	"context"
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material/surface"
	"evenbass/model/mode"
	"evenbass/model/wave"
	"evenbass/optimize"
	"evenbass/optimize/engines"
	"evenbass/optimize/search"
	"evenbass/optimize/uncertainty"
)

// stability returns how often each layout is the best when the unknowns are drawn at random. It
// returns nil without an error where the context leaves no time for it. Unless trials were asked
// for, it leaves them out after a search that used up its own time, with a warning. If the wave
// solver fails it also only warns, because the layouts took long and are complete.
func (s *Study) stability(ctx context.Context, r *optimize.Result, settings PlaceSettings) (*uncertainty.Stability, error) {
	if settings.Trials == 0 || ctx.Err() != nil {
		return nil, nil
	}
	if r.Stopped == search.OutOfTime && !settings.TrialsWanted {
		r.Warnings = append(r.Warnings, model.Remark("the search used up its time, so the trials with random walls were left out; give --trials to run them all the same"))
		return nil, nil
	}
	stability, err := s.rank(ctx, r, uncertainty.TrialsOf(&s.Project.Room, settings.Trials, r.Seed), settings.Progress)
	switch {
	case err == nil:
		shareTrials(r, stability)
		return stability, nil
	case ctx.Err() != nil && errors.Is(err, ctx.Err()):
		return nil, nil
	case s.Box == nil:
		r.Warnings = append(r.Warnings, model.PartMissing{Part: model.StabilityPart, Why: err.Error()})
		return nil, nil
	}
	return nil, fmt.Errorf("running the trials: %w", err)
}

// shareTrials gives each layout its cards in the trials.
func shareTrials(r *optimize.Result, st *uncertainty.Stability) {
	for i := range r.Candidates {
		r.Candidates[i].Card.Trials = st.Cards[i]
	}
	if r.Now != nil {
		r.Now.Card.Trials = st.Cards[len(r.Candidates)]
	}
}

// rank solves a box anew for each trial. For any other room it interpolates between runs.
func (s *Study) rank(ctx context.Context, r *optimize.Result, trials []uncertainty.Trial, progress model.Progress) (*uncertainty.Stability, error) {
	if s.Box == nil {
		sensitivity, err := s.sensitivity(ctx, r, progress)
		if err != nil {
			return nil, err
		}
		return sensitivity.Rank(ctx, trials)
	}
	walls, err := surface.NewVariable(&s.Project.Room)
	if err != nil {
		return nil, err
	}
	settings := mode.Settings{Accuracy: trialAccuracy, Near: nearest(r)}
	return uncertainty.Rank(ctx, s.Project, r, trials, func(d uncertainty.Trial) (model.Engine, error) {
		box := d.Box(&s.Project.Room, walls.Box(d.Walls))
		return mode.New(box, engines.BoxGrid(&box, s.Project.Goal), settings)
	})
}

// sensitivity runs the room with each wall and all wool at either end of its range, for the wave
// solver.
func (s *Study) sensitivity(ctx context.Context, r *optimize.Result, progress model.Progress) (*uncertainty.Sensitivity, error) {
	typical, err := s.difference(r.Shown()...)
	if err != nil {
		return nil, err
	}
	room := typical.Engine.(*wave.Room)
	levels := room.OnlyLevels()
	return uncertainty.NewSensitivity(ctx, s.Project, r, s.Engine, func(d uncertainty.Trial) (model.Engine, error) {
		if d == (uncertainty.Trial{}) {
			return typical.OnlyLevels(room), nil
		}
		as, err := levels.As(wave.Variation{Walls: d.Walls, Resistivity: d.Resistivity()}, nil)
		if err != nil || as.Same(room) {
			return nil, err
		}
		return typical.OnlyLevels(as), nil
	}, progress)
}

// trialAccuracy bounds what a trial's sums over modes leave out, relative to the direct sound: 0.01 dB of a
// level near it, far below the uncertainties that are drawn.
const trialAccuracy = 1e-3

// nearest returns the least separation of a woofer and a seat that a trial will ask for, on the
// axis where it is greatest, m.
func nearest(r *optimize.Result) float64 {
	const mostOff = 2*uncertainty.TapeError + uncertainty.WooferError
	least := 1.0
	for _, c := range r.Shown() {
		seats := []r3.Vec{c.Layout.Seat}
		for _, f := range c.Seats {
			seats = append(seats, f.At)
		}
		for _, seat := range seats {
			for _, woofer := range []r3.Vec{c.Layout.Left, c.Layout.Right} {
				d := r3.Sub(seat, woofer)
				least = min(least, max(math.Abs(d.X), math.Abs(d.Y), math.Abs(d.Z))-mostOff)
			}
		}
	}
	return max(least, 0.2)
}

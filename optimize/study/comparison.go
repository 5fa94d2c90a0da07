package study

import (
	"context"
	"fmt"
	"time"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/model/material"
	"evenbass/model/material/fit"
	"evenbass/model/response"
	"evenbass/optimize"
	"evenbass/optimize/engines"
	"evenbass/optimize/score"
	"evenbass/optimize/whatif"
)

// Compare solves a room as it is and with each option, with places as they stand.
func Compare(ctx context.Context, p *model.Project, options []model.Option, progress model.Progress) (*whatif.Comparison, error) {
	plain := plainThroughout(p, options)
	solve, least := engines.ModalSolver, roundedOff
	if !plain {
		solve, least = engines.WaveSolver(), gridError
	}
	w, err := whatif.Compare(ctx, p, options, engines.Grid(ctx, states(p, options)...), solve, progress)
	if err != nil {
		return nil, err
	}
	return w, setEnds(ctx, w, plain, least)
}

// setEnds reads the cards of all states with typical, hard and soft walls, which show how much of a change is
// certain. A box is solved by modes, any other room on coarse cells.
func setEnds(ctx context.Context, w *whatif.Comparison, plain bool, least response.Resolution) error {
	states := []*whatif.State{&w.Now}
	for i := range w.States {
		states = append(states, &w.States[i])
	}
	estimates := []material.Estimate{material.Typical, material.Low, material.High}
	fits := new(fit.Memory)
	for _, t := range states {
		t.Card.Ends, t.Card.Least = make([]response.Card, len(estimates)), least
	}
	return concurrent.Each(len(states)*len(estimates), func(i int) error {
		t, end := states[i/len(estimates)], i%len(estimates)
		solver, err := endSolver(t.Project, estimates[end], w, plain, fits)
		if err != nil {
			return err
		}
		r, err := solver.Read(ctx, solver.Engine, t.Project, w.Layout)
		t.Card.Ends[end] = r.Card
		return err
	})
}

func endSolver(p *model.Project, e material.Estimate, w *whatif.Comparison, plain bool, fits *fit.Memory) (*score.Solver, error) {
	if plain {
		return boxSolver(p, e)
	}
	both := score.NewBothGrids(w.Grid)
	s := engines.Runs(p.Goal, engines.CoarseTolerance)
	s.Cell, s.Fall, s.Zones, s.Fits = engines.CoarseCell, engines.CoarseFall, []model.Block{engines.PlaceZone(w.Layout.Left), engines.PlaceZone(w.Layout.Right)}, fits
	room, err := engines.NewRoom(p, e, both.Grid, s)
	return &score.Solver{Engine: room, BothGrids: both}, err
}

// CompareCost bounds what [Compare] takes at the very most. The bound is for the portable kernel
// on a busy machine: the demo room takes a tenth of it.
func CompareCost(p *model.Project, options []model.Option) (engines.Cost, error) {
	if plainThroughout(p, options) {
		return engines.Cost{}, nil
	}
	room, err := engines.StandingRoom(p, model.DefaultGrid(), nil, nil)
	if err != nil {
		return engines.Cost{}, err
	}
	cost := room.Cost()
	const ends = 3 / exactCost // of a run with the usual cells
	return engines.Cost{Time: time.Duration((1 + ends) * float64(len(options)+1) * cost.Seconds * float64(time.Second)), Cells: cost.Cells}, nil
}

// plainThroughout reports whether every state of the room is a plain box with uniform walls, so
// that the modal field is exact for all of them.
func plainThroughout(p *model.Project, options []model.Option) bool {
	if engines.Irregular(&p.Room) != "" {
		return false
	}
	for _, state := range states(p, options) {
		if engines.Irregular(&state.Room) != "" {
			return false
		}
	}
	return true
}

// states returns a project as it is and with each option. An option that cannot be carried out is left out:
// [Compare] reports what is wrong with it.
func states(p *model.Project, options []model.Option) []*model.Project {
	list := []*model.Project{p}
	for i := range options {
		if q, err := p.With(&options[i]); err == nil {
			list = append(list, q)
		}
	}
	return list
}

// PlaceEach searches the best places for the room as it is and with each option of a comparison,
// and adds them to it.
func PlaceEach(ctx context.Context, w *whatif.Comparison, progress model.Progress) error {
	states := []*whatif.State{&w.Now}
	for i := range w.States {
		states = append(states, &w.States[i])
	}
	for i, state := range states {
		s, err := New(ctx, w.Engine.Kind, state.Project)
		if err != nil {
			return err
		}
		search := s.search(PlaceSettings{Seed: 1, Layouts: 1})
		search.Progress = s.part("searching places", progress, i, len(states))
		best, err := s.bestWithin(ctx, search)
		if err != nil {
			return fmt.Errorf("places for %s: %w", stateName(state), err)
		}
		state.Places = best
	}
	return nil
}

func stateName(v *whatif.State) string {
	if v.Name == "" {
		return "the room as it is"
	}
	return fmt.Sprintf("%q", v.Name)
}

// PlaceEachCost estimates what [PlaceEach] takes, judged by the room as it is.
func PlaceEachCost(ctx context.Context, w *whatif.Comparison) (engines.Cost, error) {
	s, err := New(ctx, w.Engine.Kind, w.Now.Project)
	if err != nil {
		return engines.Cost{}, err
	}
	effort, err := optimize.EffortOf(s.Project, s.Engine, s.search(PlaceSettings{Seed: 1, Layouts: 1}))
	if err != nil || s.coarse == nil {
		return engines.Cost{}, err
	}
	one, err := s.cost(ctx, effort)
	return engines.Cost{Time: time.Duration(1+len(w.States)) * one.Time, Cells: one.Cells}, err
}

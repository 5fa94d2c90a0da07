package study

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/model/material"
	"evenbass/model/material/fit"
	"evenbass/model/response"
	"evenbass/optimize"
	"evenbass/optimize/engines"
	"evenbass/optimize/score"
	"evenbass/optimize/search"
	"evenbass/optimize/stage"
)

// Stages is what to build from the batts in hand, in which order.
type Stages struct {
	Plan    *stage.Plan
	Planned *model.Project // with all stages built, and pair and seat where the last one puts them

	Larger *stage.Plan   // for all batts of the room file, if Plan is for fewer; else nil
	Regret *stage.Regret // what having fewer costs; goes with Larger
}

// StageSettings says how [PlanStages] plans.
type StageSettings struct {
	Batts    int  // plan for this many of the first sort in hand, and compare with the plan for all; 0 is all
	Stay     bool // pair and seat stay where they are, whatever is built
	Progress model.Progress
}

// PlanStages plans what to build first from the stock of a project. Pair and seat are where they
// are now or in one of the best layouts of the room as it is, wherever they do best beside what is
// built. If the context ends, it returns the stages found so far, none at first, with the
// context's error. The stages are never nil.
func PlanStages(ctx context.Context, p *model.Project, settings StageSettings) (*Stages, error) {
	batts, progress := settings.Batts, settings.Progress
	planner, err := stage.NewPlanner(p, engines.Grid(ctx, p), treatedSolver())
	if err != nil {
		return new(Stages), err // before a search is spent
	}
	if !settings.Stay {
		layouts, err := layoutsToTry(ctx, p, progress)
		if err != nil {
			return new(Stages), err
		}
		planner.MayMove(layouts...)
	}
	out, err := plan(ctx, planner, batts, progress)
	return complete(ctx, p, out, err)
}

// SketchStages plans stages as [PlanStages] does with pair and seat staying, in less time, as a part of something
// longer: it tries fewer pieces for each stage and exchanges fewer.
func SketchStages(ctx context.Context, p *model.Project, progress model.Progress) (*Stages, error) {
	planner, err := stage.NewPlanner(p, engines.Grid(ctx, p), treatedSolver())
	if err != nil {
		return new(Stages), err
	}
	out := new(Stages)
	out.Plan, err = planner.Plan(ctx, stage.Settings{Tries: 4, Swaps: 6, Progress: progress})
	return complete(ctx, p, out, err)
}

// complete adds the cards of the stages and the room with all of them built. The error is that of
// planning, which may have been stopped.
func complete(ctx context.Context, p *model.Project, out *Stages, err error) (*Stages, error) {
	if out.Plan == nil {
		return out, err
	}
	if err == nil {
		err = setStageEnds(ctx, p, out.Plan)
	}
	with, fault := p.With(built(out.Plan, len(out.Plan.Stages)))
	if fault != nil {
		return nil, fault
	}
	out.Planned = with.WithLayout(out.Plan.Layout)
	return out, err
}

// layoutsTried is how many of the best layouts of the room as it is stages are planned with.
const layoutsTried = 3

// layoutsToTry searches the best places in the room as it is. None is no error: then things stay.
func layoutsToTry(ctx context.Context, p *model.Project, progress model.Progress) ([]model.Layout, error) {
	s, err := New(ctx, engines.Auto, p)
	if err != nil {
		return nil, err
	}
	settings := s.search(PlaceSettings{Seed: 1, Layouts: layoutsTried})
	settings.Progress = s.searching("searching places", progress)
	list, err := optimize.Layouts(ctx, p, s.Engine, settings)
	var nowhere *search.Infeasible
	if errors.As(err, &nowhere) {
		return nil, nil
	}
	return list, err
}

// plan plans, first for all batts if there are to be fewer.
func plan(ctx context.Context, planner *stage.Planner, batts int, progress model.Progress) (out *Stages, err error) {
	out = new(Stages)
	s := stage.Settings{Progress: progress}
	if batts > 0 {
		parts := progress.Split("planning", 2)
		s.Progress = parts[0]
		if out.Larger, err = planner.Plan(ctx, s); err != nil {
			return out, err
		}
		s.Progress = parts[1]
		s.Batts = slices.Clone(out.Larger.Batts)
		if i := slices.IndexFunc(s.Batts, func(n int) bool { return n > 0 }); i >= 0 {
			s.Batts[i] = batts
		}
	}
	out.Plan, err = planner.Plan(ctx, s)
	if err == nil && out.Larger != nil {
		out.Regret = planner.Regret(out.Larger, out.Plan)
	}
	return out, err
}

// setStageEnds reads the cards of the states shown with typical, hard and soft walls, on coarse
// cells. They tell how much of a stage's gain is certain.
func setStageEnds(ctx context.Context, p *model.Project, plan *stage.Plan) error {
	states, sets := statesOf(plan)
	both, fits := score.NewBothGrids(plan.Grid), new(fit.Memory)
	estimates := []material.Estimate{material.Typical, material.Low, material.High}
	ends := make([][]response.Card, len(states))
	for i := range ends {
		ends[i] = make([]response.Card, len(estimates))
	}
	err := concurrent.Each(len(states)*len(estimates), func(i int) error {
		n, end := i/len(estimates), i%len(estimates)
		l := states[n].Layout
		o := &model.Option{}
		for _, piece := range sets[n] {
			o.Add = append(o.Add, piece.Treatments...)
		}
		with, err := p.With(o)
		if err != nil {
			return err
		}
		s := engines.Runs(p.Goal, engines.CoarseTolerance)
		s.Cell, s.Fall, s.Zones, s.Fits = engines.CoarseCell, stageFall, []model.Block{engines.PlaceZone(l.Left), engines.PlaceZone(l.Right)}, fits
		room, err := engines.NewRoom(with, estimates[end], both.Grid, s)
		if err != nil {
			return err
		}
		r, err := both.Read(ctx, room, p, l)
		ends[n][end] = r.Card
		return err
	})
	for i, h := range states {
		h.Card.Ends, h.Card.Least = ends[i], gridError
	}
	return err
}

// statesOf returns the states that a plan shows, each with the pieces that stand in it.
func statesOf(plan *stage.Plan) (states []*stage.State, sets [][]stage.Piece) {
	add := func(s *stage.State, pieces []stage.Piece) {
		states, sets = append(states, s), append(sets, pieces)
	}
	add(plan.Now, nil)
	if plan.Start != plan.Now {
		add(plan.Start, nil)
	}
	var chosen []stage.Piece
	for _, s := range plan.Stages {
		chosen = append(chosen, s.Piece)
		add(s.After, slices.Clone(chosen))
	}
	if rest := plan.Rest; rest != nil {
		add(rest.After, slices.Concat(chosen, rest.Pieces))
	}
	return states, sets
}

// built is the option of building the first n stages.
func built(plan *stage.Plan, n int) *model.Option {
	o := &model.Option{}
	for i, s := range plan.Stages[:n] {
		for j, t := range s.Treatments {
			t.Name = fmt.Sprintf("stage %d: %v", i+1, s.Kind)
			if len(s.Treatments) == 2 {
				t.Name += []string{", left", ", right"}[j]
			}
			o.Add = append(o.Add, t)
		}
	}
	return o
}

// Rooms with hard and soft walls are solved until the energy has fallen by stageFall, dB; those that only rank
// pieces by rankingFall. Decays are read over 25 dB.
const (
	stageFall   = 50
	rankingFall = 40
)

// treatedSolver returns a solver that models a room with its treatments. It keeps the fits of
// the walls, which stay the same.
func treatedSolver() stage.Solver {
	fits := new(fit.Memory)
	return func(p *model.Project, grid model.Grid, places []model.Block, a stage.Accuracy) (model.Engine, error) {
		s := engines.Runs(p.Goal, engines.Tolerance)
		s.Zones, s.Fits = places, fits
		switch a {
		case stage.Ranked:
			s.Cell, s.Fall, s.Convergence.Tolerance = engines.RankingCell, rankingFall, engines.CoarseTolerance
		case stage.Screened:
			s.Cell, s.Fall, s.Convergence.Tolerance = engines.ScreeningCell, rankingFall, engines.CoarseTolerance
		}
		room, err := engines.NewRoom(p, material.Typical, grid, s)
		if err != nil {
			return nil, err
		}
		return room, nil
	}
}

package study

import (
	"context"
	"fmt"
	"slices"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/fit"
	"evenbass/model/wave"
	"evenbass/optimize/stage"
)

// Stages is what to build from the batts in hand, in which order.
type Stages struct {
	Plan    *stage.Plan
	Planned *model.Project // with all stages built

	Larger *stage.Plan   // for all batts of the room file, if Plan is for fewer; else nil
	Regret *stage.Regret // what having fewer costs; goes with Larger
}

// PlanStages plans what to build first from the stock of a project; with batts above 0, for that
// many of the first sort in hand, compared with the plan for all of them. If the context ends,
// it returns the stages found so far with the context's error.
func PlanStages(ctx context.Context, p *model.Project, batts int, progress model.Progress) (*Stages, error) {
	planner, err := stage.NewPlanner(p, Grid(ctx, p), treatedSolver())
	if err != nil {
		return nil, err
	}
	out, err := plan(ctx, planner, batts, progress)
	if out.Plan == nil {
		return out, err
	}
	with, fault := p.With(built(out.Plan))
	if fault != nil {
		return nil, fault
	}
	out.Planned = with
	return out, err
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

// built is the option of building all stages.
func built(plan *stage.Plan) *model.Option {
	o := &model.Option{}
	for i, s := range plan.Stages {
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

// Rooms that only compare pieces are solved on coarse cells, until the energy has fallen by
// stageFall, dB. Decays are read over 25 dB, and the scores of single pieces in an L-shaped room
// moved by 0.2 dB at most against 70 dB.
const stageFall = 50

// treatedSolver returns a solver that models a room with its treatments. It keeps the fits of
// the walls, which stay the same.
func treatedSolver() stage.Solver {
	fits := new(fit.Memory)
	return func(p *model.Project, grid model.Grid, places []model.Block, rough bool) (model.Engine, error) {
		s := wave.Settings{Zones: places, Fits: fits}
		if rough {
			s.Cell, s.Fall = coarseCell, stageFall
		}
		room, err := newRoom(&p.Room, material.Typical, grid, s)
		if err != nil {
			return nil, err
		}
		return room, nil
	}
}

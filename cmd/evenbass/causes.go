package main

import (
	"context"
	"fmt"

	"evenbass/model/wave"
	"evenbass/optimize"
	"evenbass/report"
)

// faults explains the worst dips of the layout as it stands and of the best one
// found.
func (s *study) faults(ctx context.Context, r *optimize.Result) ([]report.LayoutFaults, error) {
	var all []report.LayoutFaults
	for _, l := range []struct {
		title     string
		candidate *optimize.Candidate
	}{{"as it stands now", r.Now}, {"layout 1", &r.Candidates[0]}} {
		if l.candidate == nil {
			continue
		}
		dips, err := s.explain(ctx, l.candidate)
		if err != nil {
			return nil, fmt.Errorf("explaining the dips of %s: %w", l.title, err)
		}
		all = append(all, report.LayoutFaults{Title: l.title, Faults: dips})
	}
	return all, nil
}

// explain finds the causes of a candidate's dips, and what cures them.
func (s *study) explain(ctx context.Context, c *optimize.Candidate) ([]optimize.Explained, error) {
	dips, err := s.causes(ctx, c)
	if err != nil {
		return nil, err
	}
	return dips, optimize.Remedies(ctx, s.project, s.engine, c, dips)
}

func (s *study) causes(ctx context.Context, c *optimize.Candidate) ([]optimize.Explained, error) {
	if room, ok := s.engine.(*wave.Room); ok {
		with, err := s.comparing(c)
		if err != nil {
			return nil, err
		}
		walls := optimize.Walls{Without: with.Absorbing, With: with}
		return optimize.ExplainWalls(ctx, s.project.Room.Size, room, walls, s.project.Goal, c)
	}
	return optimize.Explain(ctx, *s.box, s.engine, s.project.Goal, c)
}

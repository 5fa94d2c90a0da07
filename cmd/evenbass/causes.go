package main

import (
	"context"
	"fmt"

	"golang.org/x/sync/errgroup"

	"evenbass/model/wave"
	"evenbass/optimize"
	"evenbass/report"
)

// faults explains the worst dips of the layout as it stands and of the best one
// found.
func (s *study) faults(ctx context.Context, r *optimize.Result) ([]report.LayoutFaults, error) {
	all := []report.LayoutFaults{{Title: "layout 1"}}
	if r.Now != nil {
		all = []report.LayoutFaults{{Title: "as it stands now"}, {Title: "layout 1"}}
	}
	shown := r.Shown()
	var both errgroup.Group
	for i := range all {
		both.Go(func() (err error) {
			if all[i].Faults, err = s.explain(ctx, shown[i]); err != nil {
				return fmt.Errorf("explaining the dips of %s: %w", all[i].Title, err)
			}
			return nil
		})
	}
	if err := both.Wait(); err != nil {
		return nil, err
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

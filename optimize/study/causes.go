package study

import (
	"cmp"
	"context"
	"fmt"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/model/wave"
	"evenbass/optimize"
	"evenbass/optimize/cause"
	"evenbass/optimize/score"
)

// LayoutFaults is the worst dips of one layout with what causes them.
type LayoutFaults struct {
	Number int // of the layout in the result, from 1; 0 is the room as it stands now
	Faults []cause.Dip
}

// faults explains the worst dips of the layout as it stands and, unless only now matters, of the
// best one found, with what would cure them.
func (s *Study) faults(ctx context.Context, r *optimize.Result, onlyNow bool) ([]LayoutFaults, error) {
	all := []LayoutFaults{{Number: 1}}
	if r.Now != nil {
		all = []LayoutFaults{{}, {Number: 1}}
	}
	explain := s.explain
	if onlyNow {
		all, explain = all[:len(all)-1], s.causes
	}
	shown := r.Shown()
	errs := make([]error, len(all))
	var group concurrent.Group
	for i := range all {
		group.Go(func() { all[i].Faults, errs[i] = explain(ctx, shown[i]) })
	}
	group.Wait()
	if err := cmp.Or(errs...); err != nil {
		return nil, fmt.Errorf("explaining the dips of a layout: %w", err)
	}
	return all, nil
}

// explain finds the causes of a candidate's dips and what cures them.
func (s *Study) explain(ctx context.Context, c *score.Candidate) ([]cause.Dip, error) {
	dips, err := s.causes(ctx, c)
	if err != nil {
		return nil, err
	}
	return dips, cause.Remedies(ctx, s.Project, s.Engine, c, dips)
}

func (s *Study) causes(ctx context.Context, c *score.Candidate) ([]cause.Dip, error) {
	room, ok := s.Engine.(*wave.Room)
	if !ok {
		return cause.Explain(ctx, *s.Box, s.Engine, s.Project, c)
	}
	with, err := s.difference(c)
	if err != nil {
		return nil, err
	}
	walls := cause.Walls{
		Without: func(f model.Face, l model.Layout) (model.Engine, error) {
			open, err := with.Engine.(*wave.Room).Absorbing(f, l)
			if err != nil {
				return nil, err
			}
			return with.OnlyLevels(open), nil
		},
		With: with.OnlyLevels(with.Engine),
	}
	return cause.ExplainWalls(ctx, room, walls, s.Project, c)
}

package study

import (
	"context"
	"errors"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/wave"
	"evenbass/optimize/engines"
	"evenbass/optimize/subwoofer"
)

// Subwoofers searches places and settings for subwoofers, with pair and seats as in a layout, and evaluates
// the plans again with hard and soft walls. Count is the most to plan for; 0 is what the project says. If the
// context ends after the first plan, it returns what is there, with the context's error and a warning of what
// is missing. Complete says that only the bounds are missing.
func (s *Study) Subwoofers(ctx context.Context, l model.Layout, count int, progress model.Progress) (r *subwoofer.Result, complete bool, err error) {
	engine := s.Engine
	if s.Kind == model.WaveEngine {
		settings := engines.Runs(s.Project.Goal, engines.Tolerance)
		settings.Zones = subwooferZones(s.Project, l)
		room, err := engines.NewRoom(s.Project, material.Typical, s.Engine.Grid(), settings)
		if err != nil {
			return nil, false, err
		}
		engine = room
	}
	r, err = subwoofer.Search(ctx, s.Project, engine, l, subwoofer.Settings{Count: count, Progress: progress})
	if r == nil {
		return nil, false, err
	}
	r.Why = s.Why
	for _, plan := range r.All() {
		for i := range plan.Seats {
			plan.Seats[i].Card.Least = leastOf(s.Kind)
		}
	}
	if complete = err == nil; complete {
		err = s.subwooferBounds(ctx, l, r)
	}
	switch {
	case !errors.Is(err, context.Canceled):
	case complete:
		r.Warnings = append(r.Warnings, model.Remark("stopped by hand before the plans were tried with other walls: the ranges are missing"))
	default:
		r.Warnings = append(r.Warnings, model.PlansCut{Tried: len(r.Plans) - 1, Most: r.Most})
	}
	return r, complete, err
}

// subwooferBounds evaluates the plans again with walls that absorb as little and as much as they
// may, by the engines of [Study.boxEnds].
func (s *Study) subwooferBounds(ctx context.Context, l model.Layout, r *subwoofer.Result) error {
	if s.Kind != model.WaveEngine {
		hard, soft, err := s.boxEnds()
		if err != nil {
			return err
		}
		return subwoofer.SetBounds(ctx, s.Project, nil, hard, soft, r)
	}
	with := func(e material.Estimate) func() (*wave.Room, error) {
		settings := engines.Runs(s.Project.Goal, engines.CoarseTolerance)
		settings.Cell, settings.Zones, settings.Fits = engines.CoarseCell, subwooferZones(s.Project, l), s.fits
		return func() (*wave.Room, error) { return engines.NewRoom(s.Project, e, s.Engine.Grid(), settings) }
	}
	rooms, err := engines.SideBySide(with(material.Typical), with(material.Low), with(material.High))
	if err != nil {
		return err
	}
	return subwoofer.SetBounds(ctx, s.Project, rooms[0], rooms[1], rooms[2], r)
}

// subwooferZones returns where a search for subwoofers asks for answers: the floor at the height
// of their drivers, where they stand, and the pair.
func subwooferZones(p *model.Project, l model.Layout) []model.Block {
	size, z := p.Room.Size, p.Subwoofers.Height
	zones := []model.Block{{Min: r3.Vec{Z: z}, Max: r3.Vec{X: size.X, Y: size.Y, Z: z}}, engines.PlaceZone(l.Left), engines.PlaceZone(l.Right)}
	for _, v := range p.Subwoofers.Placed {
		zones = append(zones, engines.PlaceZone(v))
	}
	return zones
}

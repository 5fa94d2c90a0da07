package study

import (
	"context"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/fit"
	"evenbass/model/wave"
	"evenbass/optimize"
	"evenbass/optimize/engines"
	"evenbass/optimize/score"
	"evenbass/optimize/search"
)

// Study is a project with the engine that answers for it.
type Study struct {
	engines.Choice
	Project  *model.Project
	Engine   model.Engine    // with typical walls
	Box      *model.Box      // nil for a room that is not modelled as one
	Warnings []model.Warning // of the room and the engine

	coarse      *wave.Room   // on coarse cells, beside the wave solver; else nil
	differences *differences // likewise
	fits        *fit.Memory
}

// New chooses the engine of that name, see [engines.Choose], and sets it up with typical walls.
func New(ctx context.Context, engine model.EngineKind, p *model.Project) (*Study, error) {
	chosen, err := engines.Choose(engine, &p.Room)
	if err != nil {
		return nil, err
	}
	s := &Study{Choice: chosen, Project: p}
	if s.Kind == model.WaveEngine {
		return s, s.newRooms(ctx)
	}
	e, box, warnings, err := engines.NewBox(s.Kind, p, material.Typical)
	s.Engine, s.Box, s.Warnings = e, &box, warnings
	return s, err
}

// newRooms sets up the wave solver with the usual cells and with coarse ones.
func (s *Study) newRooms(ctx context.Context) error {
	s.fits, s.differences = new(fit.Memory), new(differences)
	grid := engines.Grid(ctx, s.Project)
	rooms, err := engines.SideBySide(
		func() (*wave.Room, error) { return engines.SearchRoom(s.Project, grid, false, s.fits) },
		func() (*wave.Room, error) { return engines.SearchRoom(s.Project, grid, true, s.fits) },
	)
	if err != nil {
		return err
	}
	s.Engine, s.coarse = rooms[0], rooms[1]
	s.Warnings = append(slices.Clone(rooms[0].Warnings()), model.CellsUsed{Fine: wave.DefaultCell, Coarse: engines.CoarseCell})
	return nil
}

// within returns the study of the same room for places by other rules. It shares the cells and, where the
// speakers may stand in the same zones, all runs.
func (s *Study) within(p *model.Project) (*Study, error) {
	o := *s
	o.Project = p
	if s.coarse == nil {
		return &o, nil
	}
	zones := engines.SearchZones(p)
	exact, err := s.Engine.(*wave.Room).Over(zones)
	if err != nil {
		return nil, err
	}
	o.Engine, o.differences = exact, new(differences)
	o.coarse, err = s.coarse.Over(zones)
	return &o, err
}

// bestWithin searches the best layout and evaluates it.
func (s *Study) bestWithin(ctx context.Context, search optimize.Settings) (*score.Candidate, error) {
	found, err := optimize.Layouts(ctx, s.Project, s.Engine, search)
	if err != nil {
		return nil, err
	}
	best, err := score.Evaluate(ctx, s.Project, s.Engine, found[0], 0)
	return &best, err
}

// somewhere returns where the seat is or, if it is nowhere yet, the middle of the room.
func (s *Study) somewhere() r3.Vec {
	if now, ok := s.Project.Now(); ok {
		return now.Seat
	}
	middle := r3.Scale(0.5, s.Project.Room.Size)
	middle.Z = s.Project.Seats[0].Height
	return middle
}

// searching returns a progress that shows the tasks of a search as shares of one task, by their usual length.
// With the wave solver a fifth is left for the bounds.
func (s *Study) searching(task string, p model.Progress) model.Progress {
	ends := map[string][2]float64{
		optimize.Tabulating: {0, 0.3}, search.Breeding: {0.3, 0.8},
		search.Polishing: {0.8, 0.9}, optimize.Finishing: {0.9, 1},
	}
	if s.coarse != nil {
		ends = map[string][2]float64{
			optimize.Tabulating: {0, 0.2}, search.Breeding: {0.2, 0.3}, search.Polishing: {0.3, 0.35},
			optimize.Refining: {0.35, 0.6}, optimize.Finishing: {0.6, 0.8},
		}
	}
	return func(phase string, share float64) {
		span := ends[phase]
		p.Report(task, span[0]+(span[1]-span[0])*share)
	}
}

// part returns a progress that shows the search of room i of n as a part of one task.
func (s *Study) part(task string, p model.Progress, i, n int) model.Progress {
	return s.searching(task, func(task string, share float64) { p.Report(task, (float64(i)+share)/float64(n)) })
}

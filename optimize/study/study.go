package study

import (
	"context"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/fit"
	"evenbass/model/wave"
)

// Study is a project with the engine that answers for it.
type Study struct {
	Choice
	Project  *model.Project
	Engine   model.Engine    // with typical walls
	Box      *model.Box      // nil for a room that is not modelled as one
	Warnings []model.Warning // of the room and the engine

	coarse      *wave.Room   // on coarse cells, beside the wave solver; else nil
	differences *differences // likewise
	fits        *fit.Memory
}

// New chooses the engine of that name, see [Choose], and sets it up with typical walls.
func New(ctx context.Context, engine model.EngineKind, p *model.Project) (*Study, error) {
	chosen, err := Choose(engine, &p.Room)
	if err != nil {
		return nil, err
	}
	s := &Study{Choice: chosen, Project: p}
	if s.Kind == model.WaveEngine {
		return s, s.newRooms(ctx)
	}
	e, box, warnings, err := boxEngine(s.Kind, p, material.Typical)
	s.Engine, s.Box, s.Warnings = e, &box, warnings
	return s, err
}

// newRooms sets up the wave solver with the usual cells and with coarse ones.
func (s *Study) newRooms(ctx context.Context) error {
	s.fits, s.differences = new(fit.Memory), new(differences)
	grid := Grid(ctx, s.Project)
	rooms, err := sideBySide(
		func() (*wave.Room, error) { return searchRoom(s.Project, grid, false, s.fits) },
		func() (*wave.Room, error) { return searchRoom(s.Project, grid, true, s.fits) },
	)
	if err != nil {
		return err
	}
	s.Engine, s.coarse = rooms[0], rooms[1]
	s.Warnings = append(slices.Clone(rooms[0].Warnings()), model.CellsUsed{Fine: wave.DefaultCell, Coarse: coarseCell})
	return nil
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

package engines

import (
	"time"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/fit"
	"evenbass/model/material/surface"
	"evenbass/model/mode"
	"evenbass/model/wave"
)

// ModalSolver sets up the modal field of a box with typical walls.
func ModalSolver(p *model.Project, grid model.Grid, _ model.Progress) (model.Engine, error) {
	return NewModal(p, material.Typical, grid)
}

// NewModal sets up the modal field of a project's room as a box.
func NewModal(p *model.Project, walls material.Estimate, grid model.Grid) (model.Engine, error) {
	box, _, err := surface.Box(&p.Room, walls)
	if err != nil {
		return nil, err
	}
	return mode.New(box, grid, mode.Settings{})
}

// WaveSolver returns a function that sets up the wave solver for the present places alone.
func WaveSolver() func(p *model.Project, grid model.Grid, progress model.Progress) (model.Engine, error) {
	fits := new(fit.Memory) // most walls stay the same
	return func(p *model.Project, grid model.Grid, progress model.Progress) (model.Engine, error) {
		room, err := StandingRoom(p, grid, fits, progress)
		if err != nil {
			return nil, err
		}
		return room, nil
	}
}

// StandingRoom sets up the wave solver for the speakers' present places.
func StandingRoom(p *model.Project, grid model.Grid, fits *fit.Memory, progress model.Progress) (*wave.Room, error) {
	s := Runs(p.Goal, Tolerance)
	s.Zones, s.Fits, s.Progress = []model.Block{PlaceZone(p.Speakers.Left), PlaceZone(p.Speakers.Right)}, fits, progress
	return NewRoom(p, material.Typical, grid, s)
}

// Cost is an estimate of what a study by the wave solver takes. That of the other engines is
// zero: they are fast.
type Cost struct {
	Time  time.Duration
	Cells int // of one run
}

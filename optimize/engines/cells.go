package engines

import (
	"cmp"
	"fmt"
	"runtime"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/model/material"
	"evenbass/model/material/fit"
	"evenbass/model/response"
	"evenbass/model/wave"
	"evenbass/optimize/score"
	"evenbass/optimize/search"
)

// CoarseCell is the cell in m of runs that only rank layouts or compare rooms: the wide search, hard and soft
// walls, causes. Such a run costs a third of one with the usual cell. In the demo rooms the spread of a
// layout is then wrong by 0.03 to 0.3 dB rms, 0.9 dB at worst.
const CoarseCell = 0.14

// RankingCell is the cell in m of runs by which pieces compete. Such a run costs two fifths of one with the coarse
// cell.
const RankingCell = 0.18

// ScreeningCell is the cell in m of runs that only say in which order pieces are tried. Such a run costs half of
// one with the ranking cell.
const ScreeningCell = 0.22

// CoarseFall is how far the energy falls before such a run ends. Ending at 60 dB changes a spread by 0.08 dB
// rms and shortens the run by a seventh.
const CoarseFall model.Level = 60

// SearchRoom returns the wave solver for a project's room with typical walls, on coarse cells or
// the usual ones.
func SearchRoom(p *model.Project, grid model.Grid, coarse bool, fits *fit.Memory) (*wave.Room, error) {
	s := wave.Settings{Zones: SearchZones(p), Fits: fits, SettlingTime: response.SettlingTime(p.Goal), MarkGrid: response.DecayGrid()}
	if coarse {
		s.MarkGrid, s.Cell, s.Fall, s.CachedSeats = nil, CoarseCell, CoarseFall, runtime.GOMAXPROCS(0) // a table asks for a seat only once
	}
	return NewRoom(p, material.Typical, grid, s)
}

// NewRoom is wave.NewRoom for a project's room, within the project's memory, with an error that an owner understands.
func NewRoom(p *model.Project, e material.Estimate, grid model.Grid, s wave.Settings) (*wave.Room, error) {
	s.Memory = p.Memory
	room, err := wave.NewRoom(&p.Room, e, grid, s)
	if err != nil {
		return nil, fmt.Errorf("the wave solver cannot model this room: %w", err)
	}
	return room, nil
}

// SideBySide makes rooms in parallel and returns them, or the first error.
func SideBySide(makers ...func() (*wave.Room, error)) ([]*wave.Room, error) {
	rooms, errs := make([]*wave.Room, len(makers)), make([]error, len(makers))
	var group concurrent.Group
	for i, room := range makers {
		group.Go(func() { rooms[i], errs[i] = room() })
	}
	group.Wait()
	return rooms, cmp.Or(errs...)
}

// zoneMargin is how far outside its zones a search may ask about a speaker, m. It covers the surroundings of
// a layout, so that one run of a seat serves both.
const zoneMargin = 0.40

// SearchZones returns where a search may ask about woofers: in its zones and at their present places. It
// returns nil, the whole floor, if there is nothing to search.
func SearchZones(p *model.Project) []model.Block {
	zones, err := search.SourceZones(p, score.Displacement)
	if err != nil {
		return nil
	}
	d := r3.Vec{X: zoneMargin, Y: zoneMargin}
	for i := range zones {
		zones[i].Min, zones[i].Max = r3.Sub(zones[i].Min, d), r3.Add(zones[i].Max, d)
	}
	if s := &p.Speakers; s.Placed {
		zones = append(zones, PlaceZone(s.Left), PlaceZone(s.Right))
	}
	return zones
}

// PlaceZone is a zone of one place.
func PlaceZone(at r3.Vec) model.Block { return model.Block{Min: at, Max: at} }

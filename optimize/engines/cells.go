package engines

import (
	"cmp"
	"fmt"
	"math"
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

// Cells of runs that need not be exact, m: the coarser, the cheaper and the farther off. MEASURED.md of package
// optimize has what each costs and errs.
const (
	CoarseCell    = 0.14 // ranks layouts and compares rooms: the wide search, hard and soft walls, causes
	RankingCell   = 0.18 // by which pieces compete
	ScreeningCell = 0.22 // only says in which order pieces are tried
)

// CoarseFall is how far the energy falls before a run on coarse cells ends: what is left then moves a spread by
// less than the cells do.
const CoarseFall model.Level = 60

// Runs end when smoothed levels have converged within these tolerances, dB rms: those of figures that are shown, and
// coarse ones. More sound would move them by less; see MEASURED.md of package wave.
const (
	Tolerance       model.Level = 0.03
	CoarseTolerance model.Level = 0.1
)

// Runs returns settings that say when runs for a goal may end: once levels have converged within a tolerance and
// decays can be read, or once they have settled. A third octave beside the goal counts as well.
func Runs(goal model.Goal, tolerance model.Level) wave.Settings {
	third := math.Exp2(1.0 / 3)
	return wave.Settings{
		SettlingTime: response.SettlingTime(goal),
		Convergence:  wave.Convergence{Tolerance: tolerance, From: goal.From / third, To: goal.To * third, Smoothing: goal.Smoothing, Decays: true},
	}
}

// SearchRoom returns the wave solver for a project's room with typical walls, on coarse cells or
// the usual ones.
func SearchRoom(p *model.Project, grid model.Grid, coarse bool, fits *fit.Memory) (*wave.Room, error) {
	s := Runs(p.Goal, Tolerance)
	s.Zones, s.Fits, s.MarkGrid, s.Convergence.Decays = SearchZones(p), fits, response.DecayGrid(), false
	if coarse {
		s.MarkGrid, s.Cell, s.Fall, s.CachedSeats = nil, CoarseCell, CoarseFall, runtime.GOMAXPROCS(0) // a table asks for a seat only once
		s.Convergence.Tolerance = CoarseTolerance
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

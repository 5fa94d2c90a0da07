package main

import (
	"cmp"
	"context"
	"fmt"
	"runtime"
	"slices"
	"sync"
	"time"

	"golang.org/x/sync/errgroup"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/wave"
	"evenbass/optimize"
	"evenbass/report"
)

// study is a project with the engine that answers for it.
type study struct {
	choice
	project  *model.Project
	engine   model.Engine
	rough    *wave.Room     // of coarse cells, beside the wave solver; else nil
	compared *comparison    // likewise, for differences
	fits     *material.Fits // of the wave solver's walls
	box      *model.Box     // nil for a room that is not taken as one
	warnings []model.Warning
}

// coarser says which figures come from coarse cells.
const coarser model.Warning = "the figures come from cells of 0.10 m; a search tries layouts on cells of 0.14 m before it moves the best " +
	"of them on the finer ones, and what hard or soft walls or a missing wall change is a difference between runs on coarse cells"

// newStudy chooses the engine, and sets it up with the walls as they are typically.
func newStudy(engine string, p *model.Project) (*study, error) {
	chosen, err := choose(engine, &p.Room)
	if err != nil {
		return nil, err
	}
	s := &study{choice: chosen, project: p}
	if s.name == "wave" {
		if err := s.drawRooms(); err != nil {
			return nil, err
		}
		return s, nil
	}
	e, box, warnings, err := boxFor(s.name, p, material.Typical)
	if err != nil {
		return nil, err
	}
	s.engine, s.box, s.warnings = e, &box, warnings
	return s, nil
}

// drawRooms sets up the wave solver with the usual cells and with rough ones.
func (s *study) drawRooms() error {
	s.fits, s.compared = new(material.Fits), new(comparison)
	rooms, err := sideBySide(
		func() (*wave.Room, error) { return roomFor(s.project, false, s.fits) },
		func() (*wave.Room, error) { return roomFor(s.project, true, s.fits) },
	)
	if err != nil {
		return err
	}
	s.engine, s.rough = rooms[0], rooms[1]
	s.warnings = append(slices.Clone(rooms[0].Warnings()), coarser)
	return nil
}

// sideBySide draws two rooms at once and returns them or the first error.
func sideBySide(draw ...func() (*wave.Room, error)) ([]*wave.Room, error) {
	rooms, errs := make([]*wave.Room, len(draw)), make([]error, len(draw))
	var group sync.WaitGroup
	for i, d := range draw {
		group.Go(func() { rooms[i], errs[i] = d() })
	}
	group.Wait()
	return rooms, cmp.Or(errs...)
}

// bind binds the wave solver to a context, so that it stops when that ends.
func (s *study) bind(ctx context.Context) *study {
	bound := *s
	if room, ok := s.engine.(*wave.Room); ok {
		bound.engine = room.WithContext(ctx)
		bound.rough = s.rough.WithContext(ctx).(*wave.Room)
	}
	return &bound
}

// predictEffort is what a prediction by the wave solver takes: what is shown, and with
// coarse cells the hard and soft walls and each wall left out.
var predictEffort = optimize.Effort{Exact: 3, Wide: 9}

// searchEffort returns what a search takes with everything that is shown of it.
func (s *study) searchEffort(settings optimize.Settings) (optimize.Effort, error) {
	e, err := optimize.EffortOf(s.project, s.engine, settings)
	if _, ok := s.project.Now(); ok {
		e.Wide += 9
	}
	e.Wide += 6 + 3*settings.Layouts
	return e, err
}

const (
	longWait    = 20 * time.Second // worth a word beforehand
	longestWait = 4 * time.Hour    // refused
)

// exactCost is how much dearer a run with the usual cell is than a rough one, as measured
// in the demo rooms: 2 to 3.1.
const exactCost = 2.8

// firstRun is how much longer the first run takes than those after it, whose memory is there
// already, as measured in the demo rooms.
const firstRun = 1.4

// What it takes to rate a layout, s, and each number that is added up for it, as measured
// on one core of the machine that exactCost comes from: 0.1 to 0.3 ns a number.
const (
	ratingTime = 0.2e-3
	sumTime    = 0.3e-9
)

// announce says beforehand how long the wave solver will take, or refuses if that is too
// long.
func (s *study) announce(ctx context.Context, t *terminal, e optimize.Effort) error {
	if s.rough == nil {
		return nil
	}
	need, err := s.wait(ctx, e)
	if err != nil {
		return err
	}
	return t.tellWait(need, s.engine.(*wave.Room).Cost().Cells)
}

// wait estimates how long the wave solver will take. Where its bound is long, a rough run on
// each core is timed, of which a search makes use.
func (s *study) wait(ctx context.Context, e optimize.Effort) (time.Duration, error) {
	count := (float64(e.Wide) + exactCost*float64(e.Exact)) / float64(runtime.GOMAXPROCS(0))
	rating := float64(e.Ratings) * (ratingTime + sumTime*e.Sums) / float64(runtime.GOMAXPROCS(0))
	all := func(run float64) time.Duration { return time.Duration((count*run + rating) * float64(time.Second)) }
	if most := all(s.rough.Cost().Seconds); most < longWait {
		return most, nil
	}
	seats := e.First
	if len(seats) == 0 {
		seats = []r3.Vec{s.somewhere()}
	}
	rough, start := s.bind(ctx).rough, time.Now()
	var runs errgroup.Group
	for _, seat := range seats {
		runs.Go(func() error { _, err := rough.Field(seat); return err })
	}
	err := runs.Wait()
	return all(time.Since(start).Seconds() / firstRun), err
}

// tellWait says how long a run over so many cells will take, if it is long, or refuses it.
func (t *terminal) tellWait(need time.Duration, cells int) error {
	switch {
	case need > longestWait:
		return fmt.Errorf("the wave solver would need about %s for this room of %d cells; narrower zones need fewer runs, and --engine mode is quick where the room may be taken as a plain box",
			waitText(need), cells)
	case need > longWait:
		t.note("the wave solver will need about %s for this room", waitText(need))
	}
	return nil
}

// somewhere returns a place of the head: where it is or, if it is nowhere yet, in the
// middle of the room.
func (s *study) somewhere() r3.Vec {
	if now, ok := s.project.Now(); ok {
		return now.Seat
	}
	middle := r3.Scale(0.5, s.project.Room.Size)
	middle.Z = s.project.Seats[0].Height
	return middle
}

// modes returns the modes of a box with how loud they are at a seat; those of any
// other room are not known.
func (s *study) modes(seat r3.Vec) []report.Mode {
	if s.box == nil {
		return nil
	}
	return modeRows(*s.box, seat)
}

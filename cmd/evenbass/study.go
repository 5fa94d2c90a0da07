package main

import (
	"fmt"
	"runtime"
	"time"

	"github.com/urfave/cli/v2"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/roomfile"
	"evenbass/model/wave"
	"evenbass/optimize"
	"evenbass/report"
)

// study is a project with the engine that answers for it.
type study struct {
	choice
	project  *model.Project
	engine   model.Engine
	box      *model.Box // nil for a room that is not taken as one
	warnings []model.Warning
}

// newStudy chooses the engine, and sets it up with the walls as they are typically.
func newStudy(engine string, p *model.Project) (*study, error) {
	chosen, err := choose(engine, &p.Room)
	if err != nil {
		return nil, err
	}
	s := &study{choice: chosen, project: p}
	if s.name == "wave" {
		room, err := roomFor(p, material.Typical)
		if err != nil {
			return nil, err
		}
		s.engine, s.warnings = room, room.Warnings()
		return s, nil
	}
	e, box, warnings, err := boxFor(s.name, p, material.Typical)
	if err != nil {
		return nil, err
	}
	s.engine, s.box, s.warnings = e, &box, warnings
	return s, nil
}

// widen looks at candidates again with walls that absorb as little and as much as
// they may. For a box the exact modal engine does it, whichever was chosen: it takes a
// moment.
func (s *study) widen(candidates ...*optimize.Candidate) error {
	var ends [2]model.Engine
	for i, estimate := range []material.Estimate{material.Low, material.High} {
		var err error
		if s.box == nil {
			ends[i], err = roomFor(s.project, estimate)
		} else {
			ends[i], _, _, err = boxFor("mode", s.project, estimate)
		}
		if err != nil {
			return err
		}
	}
	return optimize.Widen(s.project, ends[0], ends[1], candidates...)
}

// How many runs of the wave solver a prediction takes, a search beside those that
// tabulate the field, and a search without a table, as counted in the demo rooms.
const (
	predictRuns  = 11
	besideRuns   = 46
	untabledRuns = 5000
)

// searchRuns returns how many runs a search takes at the least and at the most.
func (s *study) searchRuns() (least, most int, err error) {
	least, most, err = optimize.Seats(s.project, s.engine, optimize.Settings{})
	if most == 0 {
		least, most = untabledRuns, untabledRuns
	}
	return least + besideRuns, most + besideRuns, err
}

const (
	longWait    = time.Minute   // worth a word beforehand
	longestWait = 4 * time.Hour // refused
)

// announce says beforehand how long the wave solver may take with the most runs, or
// refuses if the least would take too long. A run's estimate is that of a room that
// hardly absorbs.
func (s *study) announce(t *terminal, least, most int) error {
	room, ok := s.engine.(*wave.Room)
	if !ok {
		return nil
	}
	cost := room.Cost()
	wait := func(runs int) time.Duration {
		return time.Duration(float64(runs) * cost.Seconds / float64(runtime.GOMAXPROCS(0)) * float64(time.Second))
	}
	switch {
	case wait(least) > longestWait:
		return fmt.Errorf("the wave solver would need about %v for this room, %d runs of %d cells; --engine mode is quick where the room may be taken as a plain box",
			wait(least).Round(time.Hour), least, cost.Cells)
	case wait(most) > longWait:
		t.note("the wave solver may need up to %v for this room", wait(most).Round(time.Minute))
	}
	return nil
}

// modes returns the modes of a box with how loud they are at a seat; those of any
// other room are not known.
func (s *study) modes(seat r3.Vec) []report.Mode {
	if s.box == nil {
		return nil
	}
	return modeRows(*s.box, seat)
}

// readRoom does what every command on a room file begins with: it reads the file
// that is the command's one argument and its unit style, after making sure that
// the outputs can be written.
func readRoom(c *cli.Context, outputs ...string) (path string, p *model.Project, style report.Style, err error) {
	if path, err = oneFile(c, "a room file"); err != nil {
		return
	}
	if style, err = unitStyle(c); err != nil {
		return
	}
	for _, file := range outputs {
		if err = writable(file); err != nil {
			return
		}
	}
	p, err = roomfile.ReadFile(path)
	return
}

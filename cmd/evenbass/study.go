package main

import (
	"github.com/urfave/cli/v2"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/roomfile"
	"evenbass/optimize"
	"evenbass/report"
)

// study is a project with the engine that answers for it.
type study struct {
	project  *model.Project
	engine   model.Engine
	box      model.Box
	warnings []model.Warning
}

// newStudy resolves the walls of a project as they are typically and sets up the
// engine of that name.
func newStudy(engine string, p *model.Project) (*study, error) {
	e, box, warnings, err := engineFor(engine, p, material.Typical)
	if err != nil {
		return nil, err
	}
	return &study{project: p, engine: e, box: box, warnings: warnings}, nil
}

// widen looks at candidates again with walls that absorb as little and as much as
// they may. The exact modal engine does it, whichever was chosen: it takes a
// moment.
func (s *study) widen(candidates ...*optimize.Candidate) error {
	var ends [2]model.Engine
	for i, estimate := range []material.Estimate{material.Low, material.High} {
		e, _, _, err := engineFor("mode", s.project, estimate)
		if err != nil {
			return err
		}
		ends[i] = e
	}
	return optimize.Widen(s.project, ends[0], ends[1], candidates...)
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

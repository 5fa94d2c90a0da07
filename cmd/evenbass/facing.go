package main

import (
	"fmt"
	"io"

	"github.com/urfave/cli/v2"

	"evenbass/model"
	"evenbass/model/roomfile"
	"evenbass/optimize"
)

// face adds to a result what facing other walls gives, where the room file asks for
// it. An interruption or the end of the time leaves it out.
func (s *study) face(c *cli.Context, t *terminal, r *optimize.Result) error {
	if len(s.project.Listening.AlsoFace) == 0 || r.Stopped == optimize.Cancelled || r.Stopped == optimize.OutOfTime {
		return nil
	}
	show, done := t.progress("facing other walls")
	defer done()
	turned := 0
	facings, err := optimize.Facings(c.Context, s.project, func(p *model.Project) (model.Engine, optimize.Settings, error) {
		turned++
		other, err := newStudy(s.name, p)
		if err != nil {
			return nil, optimize.Settings{}, err
		}
		other = other.bind(c.Context)
		settings := other.settings(c)
		settings.Progress = func(step, total int, phase optimize.Phase) {
			show((float64(turned-1) + other.share(step, total, phase)) / float64(len(s.project.Listening.AlsoFace)))
		}
		return other.engine, settings, nil
	})
	if c.Context.Err() != nil {
		return nil
	}
	if err != nil {
		return fmt.Errorf("facing other walls: %w", err)
	}
	r.Facings = facings
	return nil
}

func turnCommand(t *terminal) *cli.Command {
	return &cli.Command{
		Name: "turn", Usage: "write the room file for a listener who faces another wall", ArgsUsage: "ROOM.yaml --face left [-o turned.yaml]",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "o", Value: "-", Usage: "write the turned room to this `FILE` ('-': standard output)"},
			&cli.StringFlag{Name: "face", Usage: "the `WALL` that is to be the front wall: back, left, right"},
		},
		Action: func(c *cli.Context) error { return turn(c, t) },
	}
}

// turn writes the room turned: what is said of the speakers' present places is left
// out, since they would stand beside the listener or behind.
func turn(c *cli.Context, t *terminal) error {
	wall, err := model.ParseFace(c.String("face"))
	if err != nil || wall == model.Front || wall.Axis() == 2 {
		text := "turn needs --face with the wall to look at"
		if c.IsSet("face") {
			text += fmt.Sprintf(", have %q", c.String("face"))
		}
		return usageError{text: text, hint: "hint: the walls are back, left, right"}
	}
	path, err := oneFile(c, "a room file")
	if err != nil {
		return err
	}
	if err := apart(outputsOf(c), path); err != nil {
		return err
	}
	if err := writable(c.String("o")); err != nil {
		return err
	}
	p, _, err := readFile(c.Context, path)
	if err != nil {
		return err
	}
	if p.Speakers.Fixed {
		return fmt.Errorf("%s says that the speakers are fixed, so nobody can face another wall; write arrangement: free or symmetric", path)
	}
	turned := p.Facing(wall)
	turned.Speakers.Placed, turned.Listening.AlsoFace = false, nil
	if err := turned.Validate(); err != nil {
		return fmt.Errorf("%s cannot be turned to the %s: %w", path, wall.Wall(), err)
	}
	if err := t.writeFile(c.String("o"), func(w io.Writer) error { return roomfile.Write(w, turned) }); err != nil {
		return err
	}
	t.note("turned to the %s; comments and the speakers' present places are left out", wall.Wall())
	return nil
}

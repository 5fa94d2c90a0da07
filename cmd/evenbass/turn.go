package main

import (
	"fmt"
	"io"

	"github.com/urfave/cli/v2"

	"evenbass/cmd/evenbass/arguments"
	"evenbass/cmd/evenbass/terminal"
	"evenbass/model"
	"evenbass/model/roomfile"
)

func turnCommand(t *terminal.Terminal) *cli.Command {
	return &cli.Command{
		Name: "turn", Usage: "write the room file again for a listener who faces another wall", ArgsUsage: "ROOM.yaml --face left [-o turned.yaml]",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "o", Value: "-", Usage: "write the turned room to this `FILE` ('-': standard output)"},
			&cli.StringFlag{Name: "face", Usage: "the `WALL` to face, which becomes the front wall: back, left, right"},
		},
		Action: func(c *cli.Context) error { return runTurn(c, t) },
	}
}

// runTurn writes the room turned: what is said of the speakers' present places is left
// out, since they would stand beside the listener or behind.
func runTurn(c *cli.Context, t *terminal.Terminal) error {
	wall, err := model.ParseFace(c.String("face"))
	if err != nil || wall == model.Front || wall.Axis() == 2 {
		text := "turn needs --face with the wall to face"
		if c.IsSet("face") {
			text += fmt.Sprintf(", have %q", c.String("face"))
		}
		return terminal.UsageError{Text: text, Hint: "hint: the walls are back, left, right"}
	}
	path, err := arguments.OneFile(c, "a room file")
	if err != nil {
		return err
	}
	if err := terminal.Apart(arguments.OutputsOf(c), path); err != nil {
		return err
	}
	if err := terminal.Writable(c.String("o")); err != nil {
		return err
	}
	p, text, err := readFile(c.Context, path)
	if err != nil {
		return err
	}
	if p.Speakers.Fixed {
		return fmt.Errorf("the speakers in %s are fixed, so the listener cannot face another wall; write arrangement: free or symmetric", path)
	}
	turned := p.Facing(wall)
	turned.Speakers.Placed, turned.Listening.AlsoFace = false, nil
	if err := turned.Validate(); err != nil {
		return fmt.Errorf("%s cannot be turned to the %s: %w", path, wall.Wall(), err)
	}
	kept := false
	if err := t.WriteFile(c.String("o"), func(w io.Writer) (err error) {
		kept, err = roomfile.Rewrite(w, text, turned)
		return err
	}); err != nil {
		return err
	}
	about := "your comments stay at their keys: check those that name a wall"
	if !kept {
		about = "your comments could not be kept"
	}
	t.Note("turned to the %s; the speakers' present places are left out, and %s", wall.Wall(), about)
	return nil
}

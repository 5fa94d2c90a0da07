package main

import (
	"errors"
	"fmt"

	"github.com/urfave/cli/v2"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/cmd/evenbass/arguments"
	"evenbass/cmd/evenbass/terminal"
	"evenbass/model/measure/format"
	"evenbass/optimize/study"
	"evenbass/report/room"
)

func checkCommand(t *terminal.Terminal) *cli.Command {
	return &cli.Command{
		Name: "check", Usage: "read a room file and show how it was understood", ArgsUsage: "ROOM.yaml",
		Flags:  []cli.Flag{arguments.FullFlag(), arguments.UnitsFlag()},
		Action: func(c *cli.Context) error { return runCheck(c, t) },
	}
}

func runCheck(c *cli.Context, t *terminal.Terminal) error {
	in, err := readRoom(c)
	if err != nil {
		return err
	}
	u, err := study.Check(in.project)
	if err != nil {
		return fmt.Errorf("%s: %w", in.path, err)
	}
	list, faults := format.LoadAll(in.project, besideRoom(in.path))
	t.Print(room.Text(room.Report{
		Project: in.project, Engine: u.Kind, Why: u.Why, Walls: room.Walls(&in.project.Room),
		Modes: room.Modes(&u.Box, r3.Vec{}), Transition: u.Transition, Warnings: u.Warnings, Measurements: list, Full: c.Bool("full"),
	}, in.style))
	var all []error
	for _, fault := range faults {
		all = append(all, fmt.Errorf("%s: %w", in.path, fault))
	}
	return errors.Join(all...)
}

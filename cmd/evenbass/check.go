package main

import (
	"github.com/urfave/cli/v2"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/optimize/study"
	"evenbass/report/place"
	"evenbass/report/unit"
)

// fullFlag is the flag of commands whose text otherwise holds only what comes first.
func fullFlag() cli.Flag {
	return &cli.BoolFlag{Name: "full", Usage: "print all figures and caveats, not only what comes first"}
}

func unitsFlag() cli.Flag {
	return &cli.StringFlag{Name: "units", Value: "metric", Usage: "`UNITS` to print: metric, imperial or both"}
}

func unitStyle(c *cli.Context) (unit.Style, error) {
	style, err := unit.ParseStyle(c.String("units"))
	if err != nil {
		return 0, usageError{text: err.Error()}
	}
	return style, nil
}

func checkCommand(t *terminal) *cli.Command {
	return &cli.Command{
		Name: "check", Usage: "read a room file and show how it was understood", ArgsUsage: "ROOM.yaml",
		Flags:  []cli.Flag{unitsFlag()},
		Action: func(c *cli.Context) error { return runCheck(c, t) },
	}
}

func runCheck(c *cli.Context, t *terminal) error {
	in, err := readRoom(c)
	if err != nil {
		return err
	}
	u, err := study.Check(in.project)
	if err != nil {
		return err
	}
	t.print(place.CheckText(place.Check{
		Project: in.project, Engine: u.Kind, Why: u.Why, Walls: place.Walls(&in.project.Room),
		Modes: place.Modes(&u.Box, r3.Vec{}), Transition: u.Transition, Warnings: u.Warnings, Unbuildable: u.Unbuildable,
	}, in.style))
	return nil
}

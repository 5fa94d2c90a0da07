package main

import (
	"github.com/urfave/cli/v2"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/wave"
	"evenbass/report"
)

func unitsFlag() cli.Flag {
	return &cli.StringFlag{Name: "units", Value: "metric", Usage: "metric, imperial or both"}
}

func checkCommand(t *terminal) *cli.Command {
	return &cli.Command{
		Name: "check", Usage: "read a room file and print what was understood", ArgsUsage: "ROOM.yaml",
		Flags:  []cli.Flag{unitsFlag()},
		Action: func(c *cli.Context) error { return check(c, t) },
	}
}

func check(c *cli.Context, t *terminal) error {
	_, p, style, err := readRoom(c)
	if err != nil {
		return err
	}
	box, warnings, err := material.Box(&p.Room, material.Typical)
	if err != nil {
		return err
	}
	chosen, err := choose("auto", &p.Room)
	if err != nil {
		return err
	}
	if chosen.name == "wave" {
		if _, warnings, err = wave.RoomScene(&p.Room, material.Typical, wave.DefaultCell); err != nil {
			return err
		}
		warnings = append(warnings, model.Warning("predictions are by the wave engine, because "+chosen.why+
			"; the modes listed here are those of the plain box around the room, what absorbs spread over its walls"))
	}
	t.print(report.RoomCheck(report.Understood{
		Project: p, Walls: wallRows(&p.Room), Modes: modeRows(box, r3.Vec{}),
		Transition: transition(&p.Room, &box), Warnings: warnings,
	}, style))
	return nil
}

func unitStyle(c *cli.Context) (report.Style, error) {
	style, err := report.ParseStyle(c.String("units"))
	if err != nil {
		return 0, usageError{text: err.Error()}
	}
	return style, nil
}

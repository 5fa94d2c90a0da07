package main

import (
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/wave"
	"evenbass/report"
)

func unitsFlag() cli.Flag {
	return &cli.StringFlag{Name: "units", Value: "metric", Usage: "`UNITS` to print: metric, imperial or both"}
}

func checkCommand(t *terminal) *cli.Command {
	return &cli.Command{
		Name: "check", Usage: "read a room file and print what was understood", ArgsUsage: "ROOM.yaml",
		Flags:  []cli.Flag{unitsFlag()},
		Action: func(c *cli.Context) error { return check(c, t) },
	}
}

func check(c *cli.Context, t *terminal) error {
	in, err := readRoom(c)
	if err != nil {
		return err
	}
	p := in.project
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
	}
	warnings = append(warnings, unbuildable(p)...)
	t.print(report.RoomCheck(report.Understood{
		Project: p, Engine: chosen.name, Why: chosen.why, Walls: wallRows(&p.Room), Modes: modeRows(box, r3.Vec{}),
		Transition: transition(&p.Room, &box), Warnings: warnings,
	}, in.style))
	return nil
}

// unbuildable warns of every treatment that cannot be built as it is written.
func unbuildable(p *model.Project) []model.Warning {
	var out []model.Warning
	for i := range p.Room.Treatments {
		t := &p.Room.Treatments[i]
		if why := p.Hindrances(t); len(why) > 0 {
			out = append(out, model.Warning(fmt.Sprintf("treatment %q cannot be built as written: it %s", t.Name, strings.Join(why, "; it "))))
		}
	}
	return out
}

func unitStyle(c *cli.Context) (report.Style, error) {
	style, err := report.ParseStyle(c.String("units"))
	if err != nil {
		return 0, usageError{text: err.Error()}
	}
	return style, nil
}

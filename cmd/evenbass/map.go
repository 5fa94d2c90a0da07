package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/urfave/cli/v2"

	"evenbass/cmd/evenbass/arguments"
	"evenbass/cmd/evenbass/terminal"
	"evenbass/model"
	"evenbass/model/roomfile/quantity"
	"evenbass/report/floormap"
)

func mapCommand(t *terminal.Terminal) *cli.Command {
	return &cli.Command{
		Name: "map", Usage: "map the floor: where the chair could go, and how loud it is where", ArgsUsage: "ROOM.yaml [-o page.html]",
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "o", Usage: "write the page to this `FILE`"},
			&cli.StringFlag{Name: "csv", Usage: "write the map as CSV to this `FILE` ('-': standard output)"},
			&cli.StringFlag{Name: "at", Usage: "`FREQUENCIES` to map levels at, such as '42 Hz, 70 Hz' (default: the worst dips and the strongest peak at the chair)"},
			engineFlag(), memoryFlag(), arguments.FullFlag(), arguments.UnitsFlag(),
		}, signFlags()...),
		Action: func(c *cli.Context) error {
			return interrupted(runMap(c, t), "stopped by hand before the floor was mapped; nothing was written")
		},
	}
}

func runMap(c *cli.Context, t *terminal.Terminal) error {
	at, err := frequencies(c.String("at"))
	if err != nil {
		return err
	}
	in, err := readRoom(c, c.String("o"), c.String("csv"))
	if err != nil {
		return err
	}
	if !in.project.Speakers.Placed {
		return fmt.Errorf("%s does not say where the speakers stand: give speakers.now, or run `evenbass place -o page.html`, whose page maps the floor for the best layout", in.path)
	}
	s, err := newStudy(c, in.project)
	if err != nil {
		return err
	}
	if err := announceCost(c.Context, t, s.SurveyCost); err != nil {
		return err
	}
	progress, done := t.Progress()
	survey, err := s.Survey(c.Context, at, progress)
	done()
	if err != nil {
		return err
	}
	m := floormap.Report{
		Project: in.project, Survey: survey, Engine: s.Engine.Info(), Why: s.Why, Warnings: s.Warnings, Full: c.Bool("full"), Style: in.style,
		Run: in.run(c, "at", "engine", "units"),
	}
	return t.Deliver(
		func() string { return floormap.Text(m) },
		terminal.Output{File: c.String("o"), Write: func(w io.Writer) error { return floormap.Page(w, m) }},
		terminal.Output{File: c.String("csv"), Write: func(w io.Writer) error { return floormap.CSV(w, survey) }},
	)
}

// frequencies reads a list of frequencies: "42 Hz, 70 Hz".
func frequencies(text string) (model.Grid, error) {
	var list model.Grid
	if strings.TrimSpace(text) == "" {
		return nil, nil
	}
	for _, part := range strings.Split(text, ",") {
		f, err := quantity.ParseFrequency(strings.TrimSpace(part))
		if err != nil {
			return nil, terminal.UsageError{Text: fmt.Sprintf("--at: %v", err), Hint: "hint: --at '42 Hz, 70 Hz'"}
		}
		if all := model.DefaultGrid(); f < all[0] || f > all[len(all)-1] {
			return nil, terminal.UsageError{Text: fmt.Sprintf("--at must be %.4g to %.4g Hz, have %.4g Hz", all[0], all[len(all)-1], f)}
		}
		list = append(list, f)
	}
	return list, nil
}

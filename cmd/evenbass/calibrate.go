package main

import (
	"fmt"
	"io"
	"path/filepath"

	"github.com/urfave/cli/v2"

	"evenbass/cmd/evenbass/arguments"
	"evenbass/cmd/evenbass/terminal"
	"evenbass/model/measure"
	"evenbass/model/roomfile"
	"evenbass/optimize/engines"
	"evenbass/optimize/observation"
	"evenbass/report/calibration"
	"evenbass/report/measured"
)

func calibrateCommand(t *terminal.Terminal) *cli.Command {
	return &cli.Command{
		Name: "calibrate", Usage: "fit the prediction to measurements of the room", ArgsUsage: "ROOM.yaml MEASUREMENT... [-o calibrated.yaml]",
		Description: "Each MEASUREMENT is a name or a file of the room file's measurements, or a file that\n" +
			"evenbass measure saved, all of one state of the room. Each speaker alone, at two seats or more,\n" +
			"tells most:\n" +
			"  evenbass calibrate -o calibrated.yaml room.yaml chair-left.txt chair-right.txt sofa-left.txt\n" +
			"  evenbass place calibrated.yaml\n" +
			"A plain, empty room takes seconds. Any other takes minutes; it fits the wool too, but not the size.\n" +
			"The room file that -o writes is yours with a calibrated block. Every command then takes the walls\n" +
			"and the size from it, and the trials vary them by no more than the measurements left unknown.",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "o", Usage: "write the room file with the calibration to this `FILE` ('-': standard output)"},
			&cli.StringFlag{Name: "page", Usage: "write the page to this `FILE`, HTML ('-': standard output)"},
			&cli.StringFlag{Name: "json", Usage: "write the figures to this `FILE`, JSON ('-': standard output)"},
			memoryFlag(), arguments.UnitsFlag(),
		},
		Action: func(c *cli.Context) error { return runCalibrate(c, t) },
	}
}

func runCalibrate(c *cli.Context, t *terminal.Terminal) error {
	room, names, err := roomAndFiles(c)
	if err != nil {
		return err
	}
	outputs := arguments.OutputsOf(c)
	if file := c.String("page"); file != "" {
		outputs = append(outputs, terminal.NamedFile{Name: "--page", File: file})
	}
	in, err := readBeside(c, room, names, outputs)
	if err != nil {
		return err
	}
	p := in.project
	if err := checkMemory(c, engines.Auto, p); err != nil {
		return err
	}
	var list []*measure.Measurement
	for _, name := range names {
		m, err := namedMeasurement(p, room, name)
		if err != nil {
			return err
		}
		if m.Name == "" {
			m.Name = filepath.Base(name)
		}
		list = append(list, m)
	}
	progress, done := t.Progress()
	result, err := observation.Calibrate(c.Context, p, list, progress)
	done()
	if err != nil {
		return fmt.Errorf("%s: %w", room, err)
	}
	r := calibration.Report{Project: p, Result: result, Style: in.style, Written: c.String("o")}
	page := measured.Calibration{Report: r, Run: in.unsigned(c, "o", "units")}
	words, err := calibration.Text(r)
	if err != nil {
		return err
	}
	return t.Deliver(
		func() string { return words },
		terminal.Output{File: c.String("o"), Write: func(w io.Writer) error {
			_, err := roomfile.Rewrite(w, in.text, result.Apply(p))
			return err
		}},
		terminal.Output{File: c.String("page"), Write: func(w io.Writer) error { return measured.CalibrationPage(w, page) }},
		terminal.Output{File: c.String("json"), Write: func(w io.Writer) error { return calibration.JSON(w, r) }},
	)
}

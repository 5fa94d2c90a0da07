package main

import (
	"fmt"
	"io"
	"path/filepath"

	"github.com/urfave/cli/v2"

	"evenbass/cmd/evenbass/arguments"
	"evenbass/cmd/evenbass/terminal"
	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/measure"
	"evenbass/model/measure/analysis"
	"evenbass/model/measure/comparison"
	"evenbass/model/measure/format"
	"evenbass/model/response"
	"evenbass/optimize/engines"
	"evenbass/optimize/observation"
	"evenbass/report/measured"
	"evenbass/report/text"
)

// predictedWord stands for the prediction among what is compared.
const predictedWord = "predicted"

func compareCommand(t *terminal.Terminal) *cli.Command {
	return &cli.Command{
		Name: "compare", Usage: "compare a measurement with another, or with the prediction", ArgsUsage: "ROOM.yaml BEFORE AFTER [-o page.html]",
		Description: "BEFORE and AFTER are names or files of the room file's measurements, files that\n" +
			"evenbass measure saved, or the word \"predicted\". The report first says whether the\n" +
			"comparison is fair.",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "o", Usage: "write the page to this `FILE`, HTML ('-': standard output)"},
			&cli.StringFlag{Name: "json", Usage: "write the figures to this `FILE`, JSON ('-': standard output)"},
			&cli.BoolFlag{Name: "predict", Usage: "predict both states too, and say whether the change was as predicted; each measurement must say its state"},
			memoryFlag(), arguments.UnitsFlag(),
		},
		Action: func(c *cli.Context) error { return runCompare(c, t) },
	}
}

func runCompare(c *cli.Context, t *terminal.Terminal) error {
	if c.NArg() != 3 {
		return terminal.UsageError{
			Text: "compare needs a room file and two measurements",
			Hint: "hint: evenbass compare " + c.Command.ArgsUsage,
		}
	}
	room, names := c.Args().Get(0), [2]string{c.Args().Get(1), c.Args().Get(2)}
	if names[0] == predictedWord && names[1] == predictedWord {
		return terminal.UsageError{Text: "two predictions are compared by whatif, stage and place", Hint: "hint: evenbass whatif --help"}
	}
	in, err := readBeside(c, room, names[:], arguments.OutputsOf(c))
	if err != nil {
		return err
	}
	p := in.project
	if err := checkMemory(c, engines.Auto, p); err != nil {
		return err
	}
	r := measured.Comparison{Room: p.Room.Name, Style: in.style, Run: in.unsigned(c, "units", "predict")}
	sides, err := analyseSides(c, t, p, room, names, &r)
	if err != nil {
		return err
	}
	if r.Result, err = comparison.New(sides[0], sides[1], response.Resolution{}); err != nil {
		return err
	}
	if c.Bool("predict") {
		if err := predictChange(c, t, p, sides, &r); err != nil {
			return err
		}
	}
	return t.Deliver(
		func() string { return measured.ComparisonText(r) },
		terminal.Output{File: c.String("o"), Write: func(w io.Writer) error { return measured.ComparisonPage(w, r) }},
		terminal.Output{File: c.String("json"), Write: func(w io.Writer) error { return measured.ComparisonJSON(w, r) }},
	)
}

// analyseSides analyses both sides. A prediction is made for the seat, the speaker and the state of
// the measurement on the other side.
func analyseSides(c *cli.Context, t *terminal.Terminal, p *model.Project, room string, names [2]string, r *measured.Comparison) (sides [2]*analysis.Analysis, err error) {
	for i, name := range names {
		if r.Names[i] = sideName(name); name == predictedWord {
			continue
		}
		m, err := namedMeasurement(p, room, name)
		if err != nil {
			return sides, err
		}
		if sides[i], err = analysis.New(m, p.Goal); err != nil {
			return sides, fmt.Errorf("%s: %w", name, err)
		}
		if m.Name != "" {
			r.Names[i] = sideName(m.Name)
		}
	}
	if r.Names[0] == r.Names[1] {
		r.Names = [2]string{sideName(names[0]), sideName(names[1])}
	}
	for i := range names {
		if sides[i] == nil {
			list, err := predictSide(c, t, p, sides[1-i].Measurement, []material.Estimate{material.Typical}, r)
			if err != nil {
				return sides, err
			}
			sides[i] = list[0]
		}
	}
	return sides, nil
}

// sideName is what a side is called in the report.
func sideName(name string) string {
	return text.Shortened(text.Printable(filepath.Base(name)), 40)
}

// namedMeasurement reads a measurement of the room file by its name or file, or else a file.
func namedMeasurement(p *model.Project, room, name string) (*measure.Measurement, error) {
	if entry, err := format.Find(p, name); err == nil {
		return format.Load(p, entry, besideRoom(room))
	}
	f, err := opened(name)
	if err != nil {
		if len(p.Measurements) > 0 {
			return nil, fmt.Errorf("%s is neither a measurement of %s nor a file that can be read: %w", name, room, err)
		}
		return nil, err
	}
	defer f.Close()
	return format.Read(name, f, format.Options{})
}

// besideRoom opens files by their path from the room file's folder.
func besideRoom(room string) func(path string) (io.ReadCloser, error) {
	return func(path string) (io.ReadCloser, error) {
		if !filepath.IsAbs(path) {
			path = filepath.Join(filepath.Dir(room), path)
		}
		return opened(path)
	}
}

// presentMeasured reads the measurements that a room file names and picks those of the room as it
// stands; nil if there are none. What cannot be read is a warning.
func presentMeasured(c *cli.Context, in roomInput, t *terminal.Terminal) (*observation.Present, []model.Warning, error) {
	list, faults := format.LoadAll(in.project, besideRoom(in.path))
	var warnings []model.Warning
	for _, fault := range faults {
		warnings = append(warnings, model.MeasurementUnused{Name: fault.Name, Why: fault.Err.Error()})
	}
	if len(list) == 0 {
		return nil, warnings, nil
	}
	progress, done := t.Progress()
	defer done()
	present, more, err := observation.NewPresent(c.Context, in.project, list, progress)
	return present, append(warnings, more...), err
}

// predictChange predicts the change between two measurements, with typical, hard and soft walls, and
// compares the measured change with it.
func predictChange(c *cli.Context, t *terminal.Terminal, p *model.Project, sides [2]*analysis.Analysis, r *measured.Comparison) error {
	for i, side := range sides {
		if side.Measurement == nil {
			return terminal.UsageError{Text: "--predict compares the change between two measurements with its prediction; leave out \"predicted\""}
		}
		if !side.Measurement.StateKnown {
			return terminal.UsageError{
				Text: fmt.Sprintf("--predict needs the state of %s: which treatments stood", r.Names[i]),
				Hint: "hint: save it with evenbass measure --state, or give state in the room file's measurements",
			}
		}
	}
	estimates := []material.Estimate{material.Typical, material.Low, material.High}
	var pairs [2][]*analysis.Analysis
	for i, side := range sides {
		var err error
		if pairs[i], err = predictSide(c, t, p, side.Measurement, estimates, r); err != nil {
			return err
		}
	}
	var predicted []*comparison.Comparison
	for i := range estimates {
		one, err := comparison.New(pairs[0][i], pairs[1][i], response.Resolution{})
		if err != nil {
			return err
		}
		predicted = append(predicted, one)
	}
	r.PredictedChange = comparison.NewPredictedChange(r.Result, predicted...)
	return nil
}

// predictSide predicts what a measurement should have found.
func predictSide(c *cli.Context, t *terminal.Terminal, p *model.Project, m *measure.Measurement, walls []material.Estimate, r *measured.Comparison) ([]*analysis.Analysis, error) {
	progress, done := t.Progress()
	list, s, err := observation.PredictMeasurement(c.Context, p, m, walls, progress)
	done()
	if err != nil {
		return nil, err
	}
	r.Engine = text.Trust(s.Engine, s.Why)
	return list, nil
}

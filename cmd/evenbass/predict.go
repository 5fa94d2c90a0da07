package main

import (
	"context"
	"errors"
	"fmt"
	"io"

	"github.com/urfave/cli/v2"

	"evenbass/optimize"
	"evenbass/report"
)

func predictCommand(t *terminal) *cli.Command {
	return &cli.Command{
		Name: "predict", Usage: "predict the bass as things stand, and what causes its dips", ArgsUsage: "ROOM.yaml [--table transfers.csv]",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "table", Usage: "write the transfers as CSV to this `FILE` ('-': standard output)"},
			engineFlag(), unitsFlag(),
		},
		Action: func(c *cli.Context) error {
			err := predict(c, t)
			var told interruption
			if errors.Is(err, context.Canceled) && !errors.As(err, &told) {
				return stoppedPredicting("nothing was written")
			}
			return err
		},
	}
}

func stoppedPredicting(kept string) error {
	return interruption("stopped by hand before all figures were there; " + kept)
}

func predict(c *cli.Context, t *terminal) error {
	in, err := readRoom(c, c.String("table"))
	if err != nil {
		return err
	}
	p := in.project
	now, ok := p.Now()
	if !ok {
		return fmt.Errorf("%s does not say where things stand: give speakers.now and the first seat's \"at\", or run `evenbass place`", in.path)
	}
	s, err := newStudy(c.String("engine"), p)
	if err != nil {
		return err
	}
	if err := s.announce(c.Context, t, predictEffort); err != nil {
		return err
	}
	s = s.bind(c.Context)
	_, done := t.steps("predicting", 1)
	candidate, err := optimize.Evaluate(p, s.engine, now, 0)
	done()
	if err != nil {
		return err
	}
	return s.show(c, t, candidate, in.style)
}

// doubtAndExplain looks at a candidate with other walls, and for the causes of its dips.
func (s *study) doubtAndExplain(ctx context.Context, t *terminal, candidate *optimize.Candidate) ([]optimize.Explained, error) {
	next, done := t.steps("looking at walls and causes", 2)
	defer done()
	if err := s.widen(candidate); err != nil {
		return nil, err
	}
	next()
	return s.explain(ctx, candidate)
}

// show prints a prediction, or writes its table.
func (s *study) show(c *cli.Context, t *terminal, candidate optimize.Candidate, style report.Style) error {
	if file := c.String("table"); file != "" {
		err := t.writeFile(file, func(w io.Writer) error {
			return report.CSV(w, s.engine.Grid(), s.engine.Air(), candidate.Pair)
		})
		if err != nil || file == "-" {
			return err
		}
	}
	faults, err := s.doubtAndExplain(c.Context, t, &candidate)
	if file := c.String("table"); file != "" && errors.Is(err, context.Canceled) {
		return stoppedPredicting(file + " was written and is whole")
	}
	if err != nil {
		return err
	}
	t.print(report.Prediction(report.Forecast{
		Project: s.project, Engine: s.name, Why: s.why, Title: "as it stands now", Layout: &candidate,
		Faults: faults, Modes: s.modes(candidate.Layout.Seat), Warnings: s.warnings,
	}, style))
	return nil
}

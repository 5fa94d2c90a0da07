package main

import (
	"context"
	"errors"
	"fmt"
	"io"

	"github.com/urfave/cli/v2"

	"evenbass/cmd/evenbass/arguments"
	"evenbass/cmd/evenbass/terminal"
	"evenbass/optimize/study"
	"evenbass/report/prediction"
	"evenbass/report/room"
)

func predictCommand(t *terminal.Terminal) *cli.Command {
	return &cli.Command{
		Name: "predict", Usage: "predict the bass as things stand now, and explain its dips", ArgsUsage: "ROOM.yaml [--table transfers.csv]",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "table", Usage: "write the transfer functions as CSV to this `FILE` ('-': standard output)"},
			engineFlag(), memoryFlag(), arguments.FullFlag(), arguments.UnitsFlag(),
		},
		Action: func(c *cli.Context) error {
			return interrupted(runPredict(c, t), stoppedPredicting+"nothing was written")
		},
	}
}

const stoppedPredicting = "stopped by hand before all figures were computed; "

func runPredict(c *cli.Context, t *terminal.Terminal) error {
	in, err := readRoom(c, c.String("table"))
	if err != nil {
		return err
	}
	now, ok := in.project.Now()
	if !ok {
		return notPlaced(in.path)
	}
	s, err := newStudy(c, in.project)
	if err != nil {
		return err
	}
	if err := announceCost(c.Context, t, s.PredictCost); err != nil {
		return err
	}
	progress, done := t.Progress()
	var table *study.Transfers
	if c.String("table") != "" {
		if table, err = s.Transfers(c.Context, now); err != nil {
			done()
			return err
		}
	}
	p, err := s.Predict(c.Context, now, progress)
	done()
	if p == nil || err != nil && !errors.Is(err, context.Canceled) {
		return err
	}
	return showPrediction(c, t, in, s, p, table, err)
}

// notPlaced says what a room file lacks for a command on things as they stand.
func notPlaced(path string) error {
	return fmt.Errorf("%s does not say where things stand: give speakers.now and the first seat's \"at\", or run `evenbass place`", path)
}

// showPrediction writes the table and prints the rest, unless it was stopped.
func showPrediction(c *cli.Context, t *terminal.Terminal, in roomInput, s *study.Study, p *study.Prediction, table *study.Transfers, stopped error) error {
	file := c.String("table")
	if file != "" {
		err := t.WriteFile(file, func(w io.Writer) error {
			return prediction.CSV(w, table.Grid, s.Engine.Air(), table.Pair)
		})
		if err != nil {
			return err
		}
	}
	switch {
	case stopped != nil && file != "":
		return terminal.Interruption(stoppedPredicting + file + " was written and is complete")
	case stopped != nil:
		return stopped
	case file == "-":
		return nil
	}
	t.Print(prediction.Text(prediction.Report{
		Project: in.project, Engine: s.Engine.Info(), Why: s.Why, Title: "as it stands now", Layout: &p.Candidate,
		Faults: p.Faults, Modes: room.Modes(s.Box, p.Candidate.Layout.Seat), Warnings: s.Warnings, Full: c.Bool("full"),
	}, in.style))
	return nil
}

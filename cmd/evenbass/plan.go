package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"time"

	"github.com/urfave/cli/v2"

	"evenbass/cmd/evenbass/arguments"
	"evenbass/cmd/evenbass/terminal"
	whole "evenbass/optimize/plan"
	"evenbass/optimize/study"
	planpage "evenbass/report/plan"
)

func planCommand(t *terminal.Terminal) *cli.Command {
	return &cli.Command{
		Name: "plan", Usage: "say what to do, step by step: move, compare, build, measure", ArgsUsage: "ROOM.yaml [-o page.html]",
		Description: "Runs what the room file allows, in the order in which you act: the best places, its options\n" +
			"(or examples), stages from its stock, lists to buy and cut, its measurements. The other commands\n" +
			"do one step each, and more thoroughly.",
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "o", Usage: "write the page to this `FILE`"},
			&cli.StringFlag{Name: "json", Usage: "write the result as JSON to this `FILE` ('-': standard output)"},
			&cli.StringFlag{Name: "csv", Usage: "write what each step brings as CSV to this `FILE` ('-': standard output)"},
			&cli.BoolFlag{Name: "quick", Usage: "search only for places, without trials and treatments. A plain box takes seconds, a room for the wave solver longer"},
			&cli.Int64Flag{Name: "seed", Value: 1, Usage: "random seed; the same seed gives the same answer"},
			&cli.DurationFlag{Name: "time", Usage: "stop after about this long, such as 30s, with the best found by then. Half of it goes to the search for places. Two runs may then differ"},
			&cli.IntFlag{Name: "trials", Value: planTrials, Usage: "random trials of walls, wool, temperature, tape and woofer height, which give the ranges (0: none)"},
			staticFlag(), engineFlag(), memoryFlag(), arguments.UnitsFlag(),
		}, signFlags()...),
		Action: func(c *cli.Context) error { return runPlan(c, t) },
	}
}

// A plan offers fewer layouts than place does, and runs fewer trials.
const (
	planLayouts = 3
	planTrials  = 50
)

func runPlan(c *cli.Context, t *terminal.Terminal) error {
	switch n := c.Int("trials"); {
	case c.IsSet("time") && c.Duration("time") <= 0:
		return terminal.UsageError{Text: fmt.Sprintf("--time must be above zero, have %v", c.Duration("time"))}
	case n < 0 || n > mostTrials:
		return terminal.UsageError{Text: fmt.Sprintf("--trials must be 0 to %d, have %d", mostTrials, n)}
	}
	room, err := readRoom(c, c.String("o"), c.String("json"), c.String("csv"))
	if err != nil {
		return err
	}
	made, err := makePlan(c, t, room)
	stopped := errors.Is(err, context.Canceled)
	switch {
	case stopped && made == nil:
		return terminal.Interruption("stopped by hand before any layout was found; nothing was written")
	case err != nil && !stopped:
		return searchError(c, err, room)
	}
	for _, fault := range made.Places.Panics {
		t.Stack(fault)
	}
	r := planpage.Report{Plan: made, File: arguments.Quoted(room.path), Style: room.style, Run: room.run(c, "seed", "time", "trials", "engine", "units", "quick", "static")}
	if !stopped {
		if r.Present, r.Warnings, err = presentMeasured(c, room, t); err != nil {
			return err
		}
	}
	err = t.Deliver(
		func() string { return planpage.Text(r) },
		terminal.Output{File: c.String("o"), Write: func(w io.Writer) error { return planpage.Page(w, r) }},
		terminal.Output{File: c.String("json"), Write: func(w io.Writer) error { return planpage.JSON(w, r) }},
		terminal.Output{File: c.String("csv"), Write: func(w io.Writer) error { return planpage.CSV(w, r) }},
	)
	if err == nil && stopped {
		return terminal.Interruption("stopped by hand; the plan holds what was found by then")
	}
	return err
}

// makePlan says beforehand how long the search takes, then shows its progress.
func makePlan(c *cli.Context, t *terminal.Terminal, room roomInput) (*whole.Plan, error) {
	quick, page := c.Bool("quick"), c.String("o") != ""
	settings := whole.Settings{Quick: quick, Places: study.PlaceSettings{
		Seed: c.Int64("seed"), Layouts: planLayouts, Start: time.Now(), Limit: c.Duration("time"),
		Trials: c.Int("trials"), TrialsWanted: c.IsSet("trials"), Sketch: quick, Series: page && !quick && !c.Bool("static"),
	}}
	if quick {
		settings.Places.Layouts = 1
		if !c.IsSet("trials") {
			settings.Places.Trials = 0
		}
	}
	s, err := newStudy(c, room.project)
	if err != nil {
		return nil, err
	}
	cost, err := s.PlaceCost(c.Context, settings.Places)
	if err != nil {
		return nil, err
	}
	if err := announce(t, cost); err != nil {
		return nil, err
	}
	progress, done := t.Progress()
	defer done()
	settings.Places.Progress = progress
	return whole.Make(c.Context, s, settings)
}

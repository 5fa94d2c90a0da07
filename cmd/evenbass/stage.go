package main

import (
	"context"
	"errors"
	"fmt"
	"io"

	"github.com/urfave/cli/v2"

	"evenbass/cmd/evenbass/arguments"
	"evenbass/cmd/evenbass/terminal"
	"evenbass/model"
	"evenbass/model/roomfile"
	"evenbass/optimize/stage"
	"evenbass/optimize/study"
	stagepage "evenbass/report/stage"
)

func stageCommand(t *terminal.Terminal) *cli.Command {
	return &cli.Command{
		Name: "stage", Usage: "plan what to build first from the batts you have", ArgsUsage: "ROOM.yaml [-o page.html]",
		Description: "Uses the stock of the room file: the batts you have, what may be covered, what must stay\n" +
			"free. Each stage is judged with speakers and seat where they then do best, unless a plan\n" +
			"that leaves them where they are ends with the better score; --stay makes only that one.\n" +
			"Existing treatments stay.",
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "o", Usage: "write the page to this `FILE`"},
			&cli.StringFlag{Name: "json", Usage: "write the result as JSON to this `FILE` ('-': standard output)"},
			&cli.StringFlag{Name: "write", Usage: "write the room file with all stages built to this `FILE`, for build, predict and place"},
			&cli.IntFlag{Name: "batts", Usage: "plan for this many batts of the first kind in stock, and compare with the plan for all of them"},
			&cli.BoolFlag{Name: "stay", Usage: "leave speakers and seat where they are, whatever is built"},
			memoryFlag(), arguments.FullFlag(), arguments.UnitsFlag(),
		}, signFlags()...),
		Action: func(c *cli.Context) error { return runStage(c, t) },
	}
}

func runStage(c *cli.Context, t *terminal.Terminal) error {
	in, err := readRoom(c, c.String("o"), c.String("json"), c.String("write"))
	if err != nil {
		return err
	}
	if c.IsSet("batts") && c.Int("batts") < 1 {
		return terminal.UsageError{Text: fmt.Sprintf("--batts must be 1 or more, have %d", c.Int("batts"))}
	}
	p := in.project
	if err := checkMemory(c, model.WaveEngine, p); err != nil {
		return err
	}
	progress, done := t.Progress()
	plan, stopped := study.PlanStages(c.Context, p, study.StageSettings{Batts: c.Int("batts"), Stay: c.Bool("stay"), Progress: progress})
	done()
	switch {
	case stopped != nil && !errors.Is(stopped, context.Canceled):
		return fmt.Errorf("%s: %w%s", in.path, stopped, stageHint(stopped))
	case stopped != nil && (plan.Plan == nil || len(plan.Plan.Stages) == 0):
		return terminal.Interruption("stopped by hand before any stage was found; nothing was written")
	}
	g := stagepage.Report{
		Project: p, Planned: plan.Planned, Plan: plan.Plan, Larger: plan.Larger, Regret: plan.Regret, Style: in.style,
		Run: in.run(c, "batts", "units"), Full: c.Bool("full"),
	}
	if stopped == nil {
		if g.Present, g.Warnings, err = presentMeasured(c, in, t); err != nil {
			return err
		}
	}
	err = t.Deliver(
		func() string { return stagepage.Text(g) },
		terminal.Output{File: c.String("o"), Write: func(w io.Writer) error { return stagepage.Page(w, g) }},
		terminal.Output{File: c.String("json"), Write: func(w io.Writer) error { return stagepage.JSON(w, g) }},
		terminal.Output{File: c.String("write"), Write: func(w io.Writer) error {
			_, err := roomfile.Rewrite(w, in.text, g.Planned)
			return err
		}},
	)
	if err == nil && stopped != nil {
		return terminal.Interruption("stopped by hand; these are the stages found by then")
	}
	return err
}

// stageHint says what would make a plan possible.
func stageHint(err error) string {
	switch {
	case errors.Is(err, stage.ErrNoStock), errors.Is(err, stage.ErrNoBatts):
		return "; add for instance\n  stock:\n    batts:\n      - {material: wool 6 kPa·s/m² 14 kg/m³, size: 1200 mm x 600 mm x 100 mm, have: 24}"
	case errors.Is(err, stage.ErrNoPlace):
		return "; see may_cover and keep_free in the stock, and keep_clear"
	case errors.Is(err, stage.ErrNotNow):
		return "; give speakers: now and the seat's at"
	}
	return ""
}

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
	"evenbass/optimize/study"
	"evenbass/report/subwoofer"
)

func subsCommand(t *terminal.Terminal) *cli.Command {
	return &cli.Command{
		Name: "subs", Usage: "find places and settings for one to four subwoofers", ArgsUsage: "ROOM.yaml [-o page.html]",
		Description: "The speakers and seats stay where they are. The room file says under subwoofers what may be\n" +
			"chosen; the shortest entry is {count: 2}.",
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "o", Usage: "write the page to this `FILE`"},
			&cli.StringFlag{Name: "json", Usage: "write the result as JSON to this `FILE` ('-': standard output)"},
			&cli.StringFlag{Name: "csv", Usage: "write the response of each loudspeaker as CSV to this `FILE` ('-': standard output)"},
			&cli.IntFlag{Name: "count", Usage: "most subwoofers to plan for, 1 to 4 (default: the room file's number)"},
			&cli.StringFlag{Name: "mains", Value: "now", Usage: "`WHERE` the speakers and the main seat are: now, or best, which searches for the best places first"},
			engineFlag(), memoryFlag(), arguments.FullFlag(), arguments.UnitsFlag(),
		}, signFlags()...),
		Action: func(c *cli.Context) error { return runSubwoofers(c, t) },
	}
}

func runSubwoofers(c *cli.Context, t *terminal.Terminal) error {
	if n := c.Int("count"); c.IsSet("count") && (n < 1 || n > model.MostSubwoofers) {
		return terminal.UsageError{Text: fmt.Sprintf("--count must be 1 to %d, have %d", model.MostSubwoofers, n)}
	}
	if m := c.String("mains"); m != "now" && m != "best" {
		return terminal.UsageError{Text: fmt.Sprintf("--mains must be now or best, have %q", m)}
	}
	in, err := readRoom(c, c.String("o"), c.String("json"), c.String("csv"))
	if err != nil {
		return err
	}
	p := in.project
	if p.Subwoofers == nil {
		return fmt.Errorf("%s has no subwoofers: add a line such as\nsubwoofers: {count: 2, box: {depth: 40 cm, width: 36 cm, height: 42 cm}}", in.path)
	}
	s, err := newStudy(c, p)
	if err != nil {
		return err
	}
	progress, done := t.Progress()
	defer done()
	layout, err := mains(c, t, s, in.path, progress)
	if err != nil {
		return err
	}
	if err := announceCost(c.Context, t, s.SubwoofersCost); err != nil {
		return interrupted(err, stoppedSubs)
	}
	result, complete, stopped := s.Subwoofers(c.Context, layout, c.Int("count"), progress)
	done()
	switch {
	case stopped != nil && !errors.Is(stopped, context.Canceled):
		return stopped
	case stopped != nil && (result == nil || len(result.Plans) < 2):
		return interrupted(stopped, stoppedSubs)
	}
	m := subwoofer.Report{
		Project: p, Result: result, Grid: s.Engine.Grid(), Best: c.String("mains") == "best", Warnings: s.Warnings, Full: c.Bool("full"), Style: in.style,
		Run: in.run(c, "count", "mains", "engine", "units"),
	}
	err = deliverSubs(c, t, m, s.Engine.Air())
	switch {
	case err != nil || stopped == nil:
		return err
	case complete:
		return terminal.Interruption("stopped by hand; the plans are complete, but their ranges over walls are missing")
	}
	return terminal.Interruption(fmt.Sprintf("stopped by hand; these are the plans with up to %d", len(result.Plans)-1))
}

const stoppedSubs = "stopped by hand before any subwoofer was placed; nothing was written"

// deliverSubs writes the files that were asked for and prints the text.
func deliverSubs(c *cli.Context, t *terminal.Terminal, m subwoofer.Report, air model.Air) error {
	return t.Deliver(
		func() string { return subwoofer.Text(m) },
		terminal.Output{File: c.String("o"), Write: func(w io.Writer) error { return subwoofer.Page(w, m) }},
		terminal.Output{File: c.String("json"), Write: func(w io.Writer) error { return subwoofer.JSON(w, m) }},
		terminal.Output{File: c.String("csv"), Write: func(w io.Writer) error { return subwoofer.CSV(w, m, air) }},
	)
}

// mains returns where the pair and the main seat are.
func mains(c *cli.Context, t *terminal.Terminal, s *study.Study, path string, progress model.Progress) (model.Layout, error) {
	if c.String("mains") == "now" {
		now, ok := s.Project.Now()
		if !ok {
			return now, fmt.Errorf("%s does not say where things stand: give speakers.now and the first seat's \"at\", or use --mains best", path)
		}
		return now, nil
	}
	cost, err := s.PlaceCost(c.Context, study.PlaceSettings{Seed: 1, Layouts: 1})
	if err == nil {
		err = announce(t, cost)
	}
	var best model.Layout
	if err == nil {
		best, err = s.Best(c.Context, progress)
	}
	return best, interrupted(err, "stopped by hand before any layout was found; nothing was written")
}

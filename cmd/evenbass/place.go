package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"time"

	"github.com/urfave/cli/v2"

	"evenbass/optimize"
	"evenbass/report"
)

func placeCommand(t *terminal) *cli.Command {
	return &cli.Command{
		Name: "place", Usage: "find the best places for the speakers and the seat", ArgsUsage: "ROOM.yaml [-o page.html]",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "o", Usage: "write the page to this `FILE`"},
			&cli.StringFlag{Name: "json", Usage: "write the result as JSON to this `FILE` ('-': standard output)"},
			&cli.Int64Flag{Name: "seed", Value: 1, Usage: "of the search; the same seed gives the same answer"},
			&cli.IntFlag{Name: "layouts", Value: 4, Usage: "how many different layouts to offer, 1 to 5"},
			&cli.DurationFlag{Name: "time", Usage: "about how long to search at most, such as 30s; the figures and maps of what was found come on top, and draws if --draws is given; a search cut short may differ from run to run"},
			drawsFlag(), engineFlag(), unitsFlag(),
		},
		Action: func(c *cli.Context) error { return place(c, t) },
	}
}

func place(c *cli.Context, t *terminal) error {
	if n := c.Int("layouts"); n < 1 || n > 5 {
		return usageError{text: fmt.Sprintf("--layouts must be 1 to 5, have %d", n)}
	}
	if c.IsSet("time") && c.Duration("time") <= 0 {
		return usageError{text: fmt.Sprintf("--time must be above zero, have %v", c.Duration("time"))}
	}
	room, err := readRoom(c, c.String("o"), c.String("json"))
	if err != nil {
		return err
	}
	in, stopped, err := plan(c, t, room)
	if err != nil {
		return err
	}
	if err := deliver(c, t, in); err != nil {
		return err
	}
	switch {
	case stopped && in.Result.Stopped == optimize.CutShort:
		return interruption("stopped by hand after the search; the layouts are whole, and what was not computed until then is left out")
	case stopped:
		return interruption("stopped by hand; these are the best layouts found until then")
	}
	return nil
}

// plan searches one room and gathers what the page shows. Stopped by hand, it gives the
// best so far, if there is any.
func plan(c *cli.Context, t *terminal, room roomInput) (in report.Input, stopped bool, err error) {
	start := time.Now()
	s, err := newStudy(c.String("engine"), room.project)
	if err != nil {
		return in, false, err
	}
	if s.name == "image" {
		return in, false, usageError{
			text: "place does not search by images: every place that is tried costs the whole sum over them, and a search tries thousands",
			hint: "hint: use --engine mode, which is exact for the same box, and predict --engine image for a second opinion",
		}
	}
	if err := checkDraws(c); err != nil {
		return in, false, err
	}
	settings := s.settings(c)
	effort, err := s.searchEffort(settings)
	if err != nil {
		return in, false, err
	}
	effort.Wide += s.drawRuns(c.Int("draws"), settings.Layouts)
	if err := s.announce(c.Context, t, effort); err != nil {
		return in, false, interrupted(err)
	}
	result, searchErr := s.search(c, t, settings, start)
	stopped = errors.Is(searchErr, context.Canceled)
	switch {
	case result == nil && stopped:
		return in, true, interrupted(searchErr)
	case result == nil && errors.Is(searchErr, context.DeadlineExceeded):
		return in, false, fmt.Errorf("no layout was found in %v; give the search more time", c.Duration("time"))
	case result == nil:
		return in, false, searchErr
	}
	if err := s.face(c, t, result); err != nil {
		return in, stopped, err
	}
	stability, err := s.draw(c, t, result)
	if err != nil {
		return in, stopped, err
	}
	in, err = s.input(c, t, room, result)
	in.Stability = stability
	if c.Context.Err() != nil && (err == nil || errors.Is(err, context.Canceled)) {
		stopped, err = true, nil // while draws, causes or maps were made, which are left out
		if result.Stopped != optimize.Cancelled {
			result.Stopped = optimize.CutShort
		}
	}
	return in, stopped, err
}

// settings returns those of a search; the wave solver searches with coarse cells.
func (s *study) settings(c *cli.Context) optimize.Settings {
	settings := optimize.Settings{Seed: c.Int64("seed"), Layouts: c.Int("layouts")}
	if s.rough != nil {
		settings.Wide = s.rough
	}
	return settings
}

// interrupted puts a Ctrl-C before anything was found in words; other errors stay.
func interrupted(err error) error {
	if errors.Is(err, context.Canceled) {
		return interruption("stopped by hand before any layout was found; nothing was written")
	}
	return err
}

// breedingShare is the part of a search's time that goes to trying layouts; the
// rest is left for the polish, without which nothing is a local optimum.
const breedingShare = 0.6

// budget returns the contexts that end a search and its breeding; the time counts from the
// start of the command or of a batch's room.
func budget(c *cli.Context, start time.Time) (all, enough context.Context, done func()) {
	limit := c.Duration("time")
	if limit <= 0 {
		return c.Context, c.Context, func() {}
	}
	all, doneAll := context.WithDeadline(c.Context, start.Add(limit))
	enough, doneEnough := context.WithDeadline(all, start.Add(time.Duration(breedingShare*float64(limit))))
	return all, enough, func() { doneEnough(); doneAll() }
}

// search runs the search with a progress bar. Interrupted or out of time, it
// returns what was found so far together with the context's error.
func (s *study) search(c *cli.Context, t *terminal, settings optimize.Settings, start time.Time) (*optimize.Result, error) {
	show, done := t.progress("searching")
	defer done()
	all, enough, release := budget(c, start)
	defer release()
	settings.Enough, settings.After = enough, c.Context
	settings.Progress = func(step, total int, phase optimize.Phase) { show(s.share(step, total, phase)) }
	result, err := optimize.Place(all, s.project, s.engine, settings)
	if err != nil && !errors.Is(err, context.Canceled) && !errors.Is(err, context.DeadlineExceeded) {
		return nil, err
	}
	if result == nil {
		return nil, err
	}
	result.Why = s.why
	result.Warnings = append(result.Warnings, s.warnings...)
	doubt := s.bind(c.Context).widen(result.Shown()...)
	if errors.Is(doubt, context.Canceled) {
		return result, doubt // stopped while it was being widened: go without
	}
	if doubt != nil {
		return nil, doubt
	}
	return result, err
}

// share maps the phases of a search onto one bar by their usual length. The wave solver
// leaves a fifth for the ranges and causes.
func (s *study) share(step, total int, phase optimize.Phase) float64 {
	ends := map[optimize.Phase][2]float64{
		optimize.Tabulating: {0, 0.3}, optimize.Breeding: {0.3, 0.8},
		optimize.Polishing: {0.8, 0.9}, optimize.Finishing: {0.9, 1},
	}
	if s.rough != nil {
		ends = map[optimize.Phase][2]float64{
			optimize.Tabulating: {0, 0.2}, optimize.Breeding: {0.2, 0.3}, optimize.Polishing: {0.3, 0.35},
			optimize.Refining: {0.35, 0.6}, optimize.Finishing: {0.6, 0.8},
		}
	}
	span := ends[phase]
	return span[0] + (span[1]-span[0])*float64(step)/float64(max(total, 1))
}

// input gathers what the page shows.
func (s *study) input(c *cli.Context, t *terminal, room roomInput, result *optimize.Result) (in report.Input, err error) {
	in = report.Input{
		Project: s.project, Result: result, Grid: s.engine.Grid(),
		Walls: wallRows(&s.project.Room), Style: room.style,
		Run: report.Run{
			Command: fmt.Sprintf("evenbass place --seed %d --layouts %d --engine %s %s",
				result.Seed, c.Int("layouts"), s.engine.Name(), quoted(room.path)),
			Version: version(), Date: time.Now(), Source: room.text, File: room.path,
		},
	}
	if n := c.Int("draws"); n != usualDraws {
		in.Run.Command = fmt.Sprintf("%s --draws %d", in.Run.Command, n)
	}
	if result.Stopped == optimize.OutOfTime {
		in.Run.Command = fmt.Sprintf("%s --time %v", in.Run.Command, c.Duration("time"))
	}
	in.Modes = s.modes(result.Candidates[0].Layout.Seat)
	next, done := t.steps("looking for causes, mapping the floor", 1+optimize.SurveyParts)
	defer done()
	if in.Faults, err = s.bind(c.Context).faults(c.Context, result); err != nil {
		return in, err
	}
	next()
	return in, s.mapBest(c, &in, next)
}

// deliver writes the files that were asked for and prints the summary.
func deliver(c *cli.Context, t *terminal, in report.Input) error {
	return t.deliver(
		func() string { return report.Summary(in) },
		output{c.String("o"), func(w io.Writer) error { return report.Page(w, in) }},
		output{c.String("json"), func(w io.Writer) error { return report.JSON(w, in) }},
	)
}

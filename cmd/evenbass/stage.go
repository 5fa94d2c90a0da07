package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"github.com/urfave/cli/v2"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/roomfile"
	"evenbass/model/wave"
	"evenbass/optimize"
	"evenbass/report"
)

func stageCommand(t *terminal) *cli.Command {
	return &cli.Command{
		Name: "stage", Usage: "find what to build first from the batts in hand", ArgsUsage: "ROOM.yaml [-o page.html]",
		Description: "Takes the stock of the room file: batts in hand, what may be covered, what must stay free.\n" +
			"Pair and seat stay where they are; treatments that are in the room stay too.",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "o", Usage: "write the page to this `FILE`"},
			&cli.StringFlag{Name: "write", Usage: "write the room with all stages built to this `FILE`, for build, predict and place"},
			&cli.IntFlag{Name: "batts", Usage: "plan with this many batts of the first sort that is in hand, and say what that costs against the stock's number"},
			unitsFlag(),
		},
		Action: func(c *cli.Context) error { return runStage(c, t) },
	}
}

func runStage(c *cli.Context, t *terminal) error {
	in, err := readRoom(c, c.String("o"), c.String("write"))
	if err != nil {
		return err
	}
	if c.IsSet("batts") && c.Int("batts") < 1 {
		return usageError{text: fmt.Sprintf("--batts must be 1 or more, have %d", c.Int("batts"))}
	}
	p := in.project
	planner, err := optimize.NewPlanner(p, treatedSolver())
	if err != nil {
		return fmt.Errorf("%s: %w%s", in.path, err, stageHint(err))
	}
	g := report.Staging{
		Project: p, Engine: "wave", Style: in.style,
		Run: report.Run{Command: stageLine(c, in.path), Version: version(), Date: time.Now(), Source: in.text, File: in.path},
	}
	stopped := planStages(c, t, planner, &g)
	switch {
	case stopped != nil && !errors.Is(stopped, context.Canceled):
		return stopped
	case stopped != nil && (g.Plan == nil || len(g.Plan.Stages) == 0):
		return interruption("stopped by hand before any stage was found; nothing was written")
	}
	if g.Planned, err = planned(p, g.Plan); err != nil {
		return err
	}
	err = t.deliver(
		func() string { return report.StageText(g) },
		output{c.String("o"), func(w io.Writer) error { return report.StagePage(w, g) }},
		output{c.String("write"), func(w io.Writer) error { return roomfile.Write(w, g.Planned) }},
	)
	if err == nil && stopped != nil {
		return interruption("stopped by hand; these are the stages found until then")
	}
	return err
}

// planStages plans, for fewer batts too if that is asked for.
func planStages(c *cli.Context, t *terminal, planner *optimize.Planner, g *report.Staging) (err error) {
	show, done := t.progress("planning")
	defer done()
	runs := 1.0
	if c.IsSet("batts") {
		runs = 2
	}
	var before float64
	s := optimize.StageSettings{Progress: func(done, total int) { show((before + min(1, float64(done)/float64(total))) / runs) }}
	if c.IsSet("batts") {
		if g.Larger, err = planner.Plan(c.Context, s); err != nil {
			return err
		}
		before = 1
		s.Batts = slices.Clone(g.Larger.Batts)
		for i := range s.Batts {
			if s.Batts[i] > 0 {
				s.Batts[i] = c.Int("batts")
				break
			}
		}
	}
	g.Plan, err = planner.Plan(c.Context, s)
	if err == nil && g.Larger != nil {
		g.Regret = planner.Regret(g.Larger, g.Plan)
	}
	return err
}

// planned returns the project with all stages built.
func planned(p *model.Project, plan *optimize.StagePlan) (*model.Project, error) {
	o := &model.Option{}
	for i, s := range plan.Stages {
		for j, t := range s.Treatments {
			t.Name = fmt.Sprintf("stage %d: %v", i+1, s.Sort)
			if len(s.Treatments) == 2 {
				t.Name += []string{", left", ", right"}[j]
			}
			o.Add = append(o.Add, t)
		}
	}
	return p.With(o)
}

// stageHint says what would make a plan possible.
func stageHint(err error) string {
	switch {
	case errors.Is(err, optimize.ErrNoStock), errors.Is(err, optimize.ErrNoBatts):
		return "; add for instance\n  stock:\n    batts:\n      - {material: wool 6 kPa·s/m² 14 kg/m³, size: 1200 mm x 600 mm x 100 mm, have: 24}"
	case errors.Is(err, optimize.ErrNoPlace):
		return "; see may_cover and keep_free in the stock, and keep_clear"
	case errors.Is(err, optimize.ErrNotNow):
		return "; give speakers: now and the seat's at"
	}
	return ""
}

// What only compares pieces is solved with this cell in m, and until it has fallen by
// this much in dB: decays are read over 25 dB, and the scores of single pieces in an
// L-shaped room moved by 0.2 dB at most against 70 dB.
const (
	stageCell = 0.14
	stageFall = 50
)

// treatedSolver returns a solver that draws a room as it is treated into the wave solver's
// grid. It remembers the walls, which stay the same.
func treatedSolver() optimize.StageSolver {
	fits := new(material.Fits)
	return func(ctx context.Context, p *model.Project, grid model.Grid, places []model.Block, rough bool) (model.Engine, error) {
		s := wave.Settings{Zones: places, Fits: fits}
		if rough {
			s.Cell, s.Fall = stageCell, stageFall
		}
		room, err := drawRoom(&p.Room, material.Typical, grid, s)
		if err != nil {
			return nil, err
		}
		return room.WithContext(ctx), nil
	}
}

// stageLine is the command line again, quoted for a shell.
func stageLine(c *cli.Context, path string) string {
	words := []string{"evenbass stage"}
	if c.IsSet("batts") {
		words = append(words, fmt.Sprintf("--batts %d", c.Int("batts")))
	}
	words = append(words, given(c, "units")...)
	return strings.Join(append(words, quoted(path)), " ")
}

package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/urfave/cli/v2"

	"evenbass/model"
	"evenbass/model/roomfile"
	"evenbass/model/wave"
	"evenbass/optimize"
	"evenbass/report"

	"gonum.org/v1/gonum/spatial/r3"
)

func mapCommand(t *terminal) *cli.Command {
	return &cli.Command{
		Name: "map", Usage: "map the floor: where the chair could go, and how loud it is where", ArgsUsage: "ROOM.yaml [-o page.html]",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "o", Usage: "write the page to this `FILE`"},
			&cli.StringFlag{Name: "csv", Usage: "write the map as CSV to this `FILE` ('-': standard output)"},
			&cli.StringFlag{Name: "at", Usage: "`FREQUENCIES` to look at, such as '42 Hz, 70 Hz'; else the worst dips and the strongest peak at the chair"},
			engineFlag(), unitsFlag(),
		},
		Action: func(c *cli.Context) error {
			err := mapFloor(c, t)
			if errors.Is(err, context.Canceled) {
				return interruption("stopped by hand before the floor was mapped; nothing was written")
			}
			return err
		},
	}
}

func mapFloor(c *cli.Context, t *terminal) error {
	at, err := frequencies(c.String("at"))
	if err != nil {
		return err
	}
	in, err := readRoom(c, c.String("o"), c.String("csv"))
	if err != nil {
		return err
	}
	p := in.project
	if !p.Speakers.Placed {
		return fmt.Errorf("%s does not say where the speakers stand: give speakers.now, or run `evenbass place -o page.html`, whose page maps the floor for the best layout", in.path)
	}
	s, err := newStudy(c.String("engine"), p)
	if err != nil {
		return err
	}
	layout, seated := standing(p)
	if err := s.announce(c.Context, t, optimize.Effort{Exact: surveyRuns}); err != nil {
		return err
	}
	next, done := t.steps("mapping the floor", optimize.SurveyParts)
	survey, err := s.survey(c, layout, seated, optimize.SurveySettings{At: at, Done: next})
	done()
	if err != nil {
		return err
	}
	m := report.Maps{
		Project: p, Survey: survey, Engine: s.name, Why: s.why, Warnings: s.warnings, Style: in.style,
		Run: report.Run{Command: mapLine(c, in.path), Version: version(), Date: time.Now(), File: in.path},
	}
	return t.deliver(
		func() string { return report.MapText(m) },
		output{c.String("o"), func(w io.Writer) error { return report.MapPage(w, m) }},
		output{c.String("csv"), func(w io.Writer) error { return report.MapCSV(w, survey) }},
	)
}

// standing returns the layout as things stand; without a place for the chair its seat
// is the height of the ears alone.
func standing(p *model.Project) (l model.Layout, seated bool) {
	if l, ok := p.Now(); ok {
		return l, true
	}
	l = model.Layout{Left: p.Speakers.Left, Right: p.Speakers.Right, AxisHeight: p.Speakers.Left.Z + p.Speakers.WooferBelow}
	l.Seat.Z = p.Seats[0].Height
	return l, false
}

// surveyRuns is how many runs of the wave solver a survey takes.
const surveyRuns = 3

// survey maps the floor about a layout.
func (s *study) survey(c *cli.Context, l model.Layout, seated bool, settings optimize.SurveySettings) (*optimize.Survey, error) {
	engine := s.engine
	if room, ok := s.engine.(*wave.Room); ok {
		floor, err := room.Over(surveyZones(s.project.Room.Size, l))
		if err != nil {
			return nil, fmt.Errorf("the wave solver cannot map this room: %w", err)
		}
		engine = floor.WithContext(c.Context)
	}
	return optimize.NewSurvey(c.Context, s.project, engine, l, seated, settings)
}

// mapBest adds maps of the first layout's floor to a page that is to be written. If they
// cannot be had, the page says why and goes without.
func (s *study) mapBest(c *cli.Context, in *report.Input, next func()) error {
	if c.String("o") == "" {
		return nil
	}
	survey, err := s.survey(c, in.Result.Candidates[0].Layout, true, optimize.SurveySettings{Done: next})
	switch {
	case errors.Is(err, context.Canceled):
		return err
	case err != nil:
		in.Warnings = append(in.Warnings, model.Warning(fmt.Sprintf("there are no maps of the floor: %v", err)))
	}
	in.Floor = survey
	return nil
}

// surveyZones returns where a survey asks for answers: the floor at the height of the
// ears, and the speakers' surroundings.
func surveyZones(size r3.Vec, l model.Layout) []model.Block {
	d := r3.Vec{X: optimize.SurveyReach, Y: optimize.SurveyReach}
	about := func(v r3.Vec) model.Block { return model.Block{Min: r3.Sub(v, d), Max: r3.Add(v, d)} }
	return []model.Block{
		{Min: r3.Vec{Z: l.Seat.Z}, Max: r3.Vec{X: size.X, Y: size.Y, Z: l.Seat.Z}}, about(l.Left), about(l.Right),
	}
}

// frequencies reads a list of frequencies: "42 Hz, 70 Hz".
func frequencies(text string) (model.Grid, error) {
	var list model.Grid
	if strings.TrimSpace(text) == "" {
		return nil, nil
	}
	for _, part := range strings.Split(text, ",") {
		f, err := roomfile.ParseFrequency(strings.TrimSpace(part))
		if err != nil {
			return nil, usageError{text: fmt.Sprintf("--at: %v", err), hint: "hint: --at '42 Hz, 70 Hz'"}
		}
		if all := model.DefaultGrid(); f < all[0] || f > all[len(all)-1] {
			return nil, usageError{text: fmt.Sprintf("--at must be %.4g to %.4g Hz, have %.4g Hz", all[0], all[len(all)-1], f)}
		}
		list = append(list, f)
	}
	return list, nil
}

// mapLine is the command line again, quoted for a shell.
func mapLine(c *cli.Context, path string) string {
	words := append([]string{"evenbass map"}, given(c, "at", "engine", "units")...)
	return strings.Join(append(words, quoted(path)), " ")
}

package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/urfave/cli/v2"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/wave"
	"evenbass/optimize"
	"evenbass/report"
)

func subsCommand(t *terminal) *cli.Command {
	return &cli.Command{
		Name: "subs", Usage: "find places and settings for one to four subwoofers", ArgsUsage: "ROOM.yaml [-o page.html]",
		Description: "The speakers and the seats stay. What may be chosen stands in the room file under\n" +
			"subwoofers; the least of it is {count: 2}.",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "o", Usage: "write the page to this `FILE`"},
			&cli.StringFlag{Name: "json", Usage: "write the result as JSON to this `FILE` ('-': standard output)"},
			&cli.StringFlag{Name: "csv", Usage: "write what comes from each loudspeaker as CSV to this `FILE` ('-': standard output)"},
			&cli.IntFlag{Name: "count", Usage: "how many to plan for at most, 1 to 4; else what the room file says"},
			&cli.StringFlag{Name: "mains", Value: "now", Usage: "`WHERE` the speakers and the main seat are: now, or best (searched for first, as place does)"},
			engineFlag(), unitsFlag(),
		},
		Action: func(c *cli.Context) error { return subs(c, t) },
	}
}

func subs(c *cli.Context, t *terminal) error {
	if n := c.Int("count"); c.IsSet("count") && (n < 1 || n > model.MostSubwoofers) {
		return usageError{text: fmt.Sprintf("--count must be 1 to %d, have %d", model.MostSubwoofers, n)}
	}
	if m := c.String("mains"); m != "now" && m != "best" {
		return usageError{text: fmt.Sprintf("--mains must be now or best, have %q", m)}
	}
	in, err := readRoom(c, c.String("o"), c.String("json"), c.String("csv"))
	if err != nil {
		return err
	}
	p := in.project
	if p.Subwoofers == nil {
		return fmt.Errorf("%s has no subwoofers: add a line such as\nsubwoofers: {count: 2, box: {depth: 40 cm, width: 36 cm, height: 42 cm}}", in.path)
	}
	s, err := newStudy(c.String("engine"), p)
	if err != nil {
		return err
	}
	layout, err := s.mains(c, t, in.path)
	if err != nil {
		return err
	}
	result, stopped := s.subs(c, t, layout)
	searched := stopped == nil
	if searched {
		stopped = s.widenSubs(c.Context, layout, result)
	}
	switch {
	case stopped != nil && !errors.Is(stopped, context.Canceled):
		return stopped
	case stopped != nil && (result == nil || len(result.Plans) < 2):
		return interruption("stopped by hand before any subwoofer was placed; nothing was written")
	}
	told := ""
	if stopped != nil {
		told = tellStopped(result, searched)
	}
	m := report.SubReport{
		Project: p, Result: result, Grid: s.engine.Grid(), Best: c.String("mains") == "best", Warnings: s.warnings, Style: in.style,
		Run: report.Run{Command: subsLine(c, in.path), Version: version(), Date: time.Now(), Source: in.text, File: in.path},
	}
	if err := deliverSubs(c, t, m, s.engine.Air()); err != nil || stopped == nil {
		return err
	}
	return interruption("stopped by hand; " + told)
}

// tellStopped adds to a result what is missing since the search was stopped, and says what
// is there.
func tellStopped(r *optimize.SubResult, searched bool) string {
	placed := len(r.Plans) - 1
	if searched {
		r.Warnings = append(r.Warnings, "stopped by hand before the plans were looked at with other walls: the ranges are missing")
		return "the plans are whole, their ranges over walls are missing"
	}
	r.Warnings = append(r.Warnings, model.Warning(fmt.Sprintf("the search was stopped by hand: more than %d of up to %d subwoofers were not looked for", placed, r.Most)))
	return fmt.Sprintf("these are the plans with up to %d", placed)
}

// deliverSubs writes the files that were asked for and prints the text.
func deliverSubs(c *cli.Context, t *terminal, m report.SubReport, air model.Air) error {
	return t.deliver(
		func() string { return report.SubText(m) },
		output{c.String("o"), func(w io.Writer) error { return report.SubPage(w, m) }},
		output{c.String("json"), func(w io.Writer) error { return report.SubJSON(w, m) }},
		output{c.String("csv"), func(w io.Writer) error { return report.SubCSV(w, m, air) }},
	)
}

// mains returns where the pair and the main seat are.
func (s *study) mains(c *cli.Context, t *terminal, path string) (model.Layout, error) {
	if c.String("mains") == "now" {
		now, ok := s.project.Now()
		if !ok {
			return now, fmt.Errorf("%s does not say where things stand: give speakers.now and the first seat's \"at\", or use --mains best", path)
		}
		return now, nil
	}
	settings := s.settings(c)
	settings.Seed, settings.Layouts = 1, 1
	effort, err := s.searchEffort(settings)
	if err != nil {
		return model.Layout{}, err
	}
	if err := s.announce(c.Context, t, effort); err != nil {
		return model.Layout{}, interrupted(err)
	}
	show, done := t.progress("placing the speakers")
	defer done()
	settings.Progress = func(step, total int, phase optimize.Phase) { show(s.share(step, total, phase)) }
	result, err := optimize.Place(c.Context, s.project, s.engine, settings)
	if err != nil {
		return model.Layout{}, interrupted(err)
	}
	return result.Candidates[0].Layout, nil
}

// subs searches for subwoofers with a progress bar. Interrupted, it returns the plans
// done so far with the context's error.
func (s *study) subs(c *cli.Context, t *terminal, l model.Layout) (*optimize.SubResult, error) {
	engine := s.engine
	if s.name == "wave" {
		room, err := drawRoom(&s.project.Room, material.Typical, s.engine.Grid(), wave.Settings{Zones: subZones(s.project, l)})
		if err != nil {
			return nil, err
		}
		engine = room.WithContext(c.Context)
		if err := s.announce(c.Context, t, optimize.Effort{Exact: subHeads * len(s.project.Seats), Wide: 3 * len(s.project.Seats)}); err != nil {
			return nil, err
		}
	}
	show, done := t.progress("placing subwoofers")
	defer done()
	result, err := optimize.Subs(c.Context, s.project, engine, l, optimize.SubSettings{Count: c.Int("count"), Progress: show})
	if result != nil {
		result.Why = s.why
	}
	return result, err
}

// widenSubs looks at the plans again with walls that absorb as little and as much as they
// may, by the engines of [study.widen].
func (s *study) widenSubs(ctx context.Context, l model.Layout, r *optimize.SubResult) error {
	if s.name != "wave" {
		hard, soft, err := s.boxEnds()
		if err != nil {
			return err
		}
		return optimize.WidenSubs(s.project, nil, hard, soft, r)
	}
	draw := func(e material.Estimate) func() (*wave.Room, error) {
		settings := wave.Settings{Cell: roughCell, Zones: subZones(s.project, l), Fits: s.fits}
		return func() (*wave.Room, error) { return drawRoom(&s.project.Room, e, s.engine.Grid(), settings) }
	}
	rooms, err := sideBySide(draw(material.Typical), draw(material.Low), draw(material.High))
	if err != nil {
		return err
	}
	return optimize.WidenSubs(s.project, rooms[0].WithContext(ctx), rooms[1].WithContext(ctx), rooms[2].WithContext(ctx), r)
}

// subHeads is how many places of a head the search asks for at each seat: each takes
// one run of the wave solver.
const subHeads = 5

// subZones returns where a search for subwoofers asks for answers: the floor at the
// height of their drivers, where they stand, and the pair.
func subZones(p *model.Project, l model.Layout) []model.Block {
	at := func(v r3.Vec) model.Block { return model.Block{Min: v, Max: v} }
	size, z := p.Room.Size, p.Subwoofers.Height
	zones := []model.Block{{Min: r3.Vec{Z: z}, Max: r3.Vec{X: size.X, Y: size.Y, Z: z}}, at(l.Left), at(l.Right)}
	for _, v := range p.Subwoofers.Placed {
		zones = append(zones, at(v))
	}
	return zones
}

// subsLine is the command line again, quoted for a shell.
func subsLine(c *cli.Context, path string) string {
	words := append([]string{"evenbass subs"}, given(c, "count", "mains", "engine", "units")...)
	return strings.Join(append(words, quoted(path)), " ")
}

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
	"evenbass/model"
	"evenbass/optimize"
	"evenbass/optimize/search"
	"evenbass/optimize/study"
	"evenbass/report/place"
)

func placeCommand(t *terminal.Terminal) *cli.Command {
	return &cli.Command{
		Name: "place", Usage: "find the best places for the speakers and the seat", ArgsUsage: "ROOM.yaml [-o page.html]",
		Flags: append([]cli.Flag{
			arguments.FullFlag(),
			&cli.StringFlag{Name: "o", Usage: "write the page to this `FILE`"},
			&cli.StringFlag{Name: "json", Usage: "write the result as JSON to this `FILE` ('-': standard output)"},
			staticFlag(), optionsFlag(), pairsFlag(),
		}, append(searchFlags(), signFlags()...)...),
		Action: func(c *cli.Context) error { return runPlace(c, t) },
	}
}

func staticFlag() cli.Flag {
	return &cli.BoolFlag{Name: "static", Usage: "leave out the part of the page that lets the reader try other places; this saves time, memory and size"}
}

func optionsFlag() cli.Flag {
	return &cli.BoolFlag{Name: "options", Usage: "let the reader of the page switch on the room file's options, one at a time. Each takes as long as predicting about 17 seats. Options too large for the page are left out"}
}

func pairsFlag() cli.Flag {
	return &cli.BoolFlag{Name: "pairs", Usage: "as --options, and two options at a time, where both can be built. Each two take as long as one"}
}

// usualTrials is how many trials are run unless the user says otherwise. More than mostTrials add
// nothing.
const (
	usualTrials = 100
	mostTrials  = 10000
)

// searchFlags are the flags of commands that search places.
func searchFlags() []cli.Flag {
	return []cli.Flag{
		&cli.Int64Flag{Name: "seed", Value: 1, Usage: "random seed; the same seed gives the same answer"},
		&cli.IntFlag{Name: "layouts", Value: 4, Usage: "how many different layouts to offer, 1 to 5"},
		&cli.DurationFlag{Name: "time", Usage: "stop each search after about this long, such as 30s. Computing the figures and maps takes a little longer, and the trials are left out unless --trials is given. A search cut short may differ from run to run"},
		&cli.IntFlag{Name: "trials", Value: usualTrials, Usage: "random trials of walls, wool, temperature, tape and woofer height, which give the ranges (0: none)"},
		engineFlag(), memoryFlag(), arguments.UnitsFlag(),
	}
}

// checkSearch refuses what no search can do.
func checkSearch(c *cli.Context) error {
	switch n, trials := c.Int("layouts"), c.Int("trials"); {
	case n < 1 || n > 5:
		return terminal.UsageError{Text: fmt.Sprintf("--layouts must be 1 to 5, have %d", n)}
	case c.IsSet("time") && c.Duration("time") <= 0:
		return terminal.UsageError{Text: fmt.Sprintf("--time must be above zero, have %v", c.Duration("time"))}
	case trials < 0 || trials > mostTrials:
		return terminal.UsageError{Text: fmt.Sprintf("--trials must be 0 to %d, have %d", mostTrials, trials)}
	}
	return nil
}

// checkVariants refuses --options and --pairs where the page would not have what they ask for.
func checkVariants(c *cli.Context, paged bool) error {
	for _, flag := range []string{"options", "pairs"} {
		switch {
		case !c.Bool(flag):
		case !paged:
			return terminal.UsageError{Text: fmt.Sprintf("--%s is for the page: name one with -o", flag), Hint: fmt.Sprintf("hint: evenbass place --%s -o page.html room.yaml", flag)}
		case c.Bool("static"):
			return terminal.UsageError{Text: fmt.Sprintf("--static leaves out the part of the page that --%s adds to: give one of them", flag)}
		}
	}
	return nil
}

func runPlace(c *cli.Context, t *terminal.Terminal) error {
	if err := checkSearch(c); err != nil {
		return err
	}
	if err := checkVariants(c, c.String("o") != ""); err != nil {
		return err
	}
	room, err := readRoom(c, c.String("o"), c.String("json"))
	if err != nil {
		return err
	}
	if wanted := arguments.Given(c, "options", "pairs"); len(wanted) > 0 && len(room.project.Options) == 0 {
		return fmt.Errorf("%s has no options that %s could switch on; describe some under options, for instance\n"+
			"  options:\n    - {name: wool behind, add: [{wall: back, layers: [wool 100 mm 6 kPa·s/m²]}]}", room.path, wanted[0])
	}
	in, stopped, err := plan(c, t, room)
	if err != nil {
		return err
	}
	err = t.Deliver(
		func() string { return place.Text(in) },
		terminal.Output{File: c.String("o"), Write: func(w io.Writer) error { return place.Page(w, in) }},
		terminal.Output{File: c.String("json"), Write: func(w io.Writer) error { return place.JSON(w, in) }},
	)
	switch {
	case err != nil:
		return err
	case stopped && in.Result.Stopped == search.CutShort:
		return terminal.Interruption("stopped by hand after the search; the layouts are complete, and figures not computed by then are left out")
	case stopped:
		return terminal.Interruption("stopped by hand; these are the best layouts found by then")
	}
	return nil
}

// plan searches the places of a room as [planFor] does, and shows its progress on the terminal.
func plan(c *cli.Context, t *terminal.Terminal, room roomInput) (in place.Report, stopped bool, err error) {
	progress, done := t.Progress()
	defer done()
	return planFor(c, t, room, c.String("o") != "", progress)
}

// planFor searches the places of a room and gathers what its text shows and, if it is wanted, its
// page. Stopped by hand, it gives the best so far, if there is any.
func planFor(c *cli.Context, t *terminal.Terminal, room roomInput, paged bool, progress model.Progress) (in place.Report, stopped bool, err error) {
	settings := study.PlaceSettings{
		Seed: c.Int64("seed"), Layouts: c.Int("layouts"), Start: time.Now(), Limit: c.Duration("time"),
		Trials: c.Int("trials"), TrialsWanted: c.IsSet("trials"), Maps: paged, Series: paged && !c.Bool("static"), Options: c.Bool("options") || c.Bool("pairs"), Pairs: c.Bool("pairs"), Progress: progress,
	}
	s, err := newStudy(c, room.project)
	if err != nil {
		return in, false, err
	}
	found, err := searchPlaces(c, t, s, settings)
	if stopped = errors.Is(err, context.Canceled); stopped && found == nil {
		return in, true, terminal.Interruption("stopped by hand before any layout was found; nothing was written")
	}
	if err != nil && !stopped {
		return in, false, searchError(c, err, room)
	}
	for _, fault := range found.Panics {
		t.Stack(fault)
	}
	in = placeInput(c, room, s, found)
	if !stopped {
		var warnings []model.Warning
		if in.Present, warnings, err = presentMeasured(c, room, t); err != nil {
			return in, false, err
		}
		in.Warnings = append(in.Warnings, warnings...)
	}
	return in, stopped, nil
}

// searchError says why a search found no layout.
func searchError(c *cli.Context, err error, room roomInput) error {
	var none *search.Infeasible
	switch {
	case errors.As(err, &none):
		return errors.New(place.InfeasibleText(none, room.style))
	case errors.Is(err, study.ErrImages):
		return terminal.UsageError{
			Text: fmt.Sprintf("%s does not search by images: %v", c.Command.Name, err),
			Hint: "hint: use --engine mode, which is exact for the same box, and predict --engine image for a second opinion",
		}
	}
	return err
}

// searchPlaces says beforehand how long the search takes, then searches.
func searchPlaces(c *cli.Context, t *terminal.Terminal, s *study.Study, settings study.PlaceSettings) (*study.Places, error) {
	cost, err := s.PlaceCost(c.Context, settings)
	if err != nil {
		return nil, err
	}
	if err := announce(t, cost); err != nil {
		return nil, err
	}
	return s.Place(c.Context, settings)
}

// placeInput gathers what the page shows.
func placeInput(c *cli.Context, room roomInput, s *study.Study, found *study.Places) place.Report {
	in := place.New(s, found, room.style, room.runAs(c, placeLine(c, room.path, s, found.Result)))
	in.Full = c.Bool("full")
	return in
}

// placeLine returns the command line again, quoted for a shell.
func placeLine(c *cli.Context, path string, s *study.Study, r *optimize.Result) string {
	line := fmt.Sprintf("evenbass place --seed %d --layouts %d --engine %s %s", r.Seed, c.Int("layouts"), s.Kind, arguments.Quoted(path))
	if n := c.Int("trials"); n != usualTrials {
		line = fmt.Sprintf("%s --trials %d", line, n)
	}
	for _, flag := range arguments.Given(c, "static", "options", "pairs") {
		line += " " + flag
	}
	if r.Stopped == search.OutOfTime {
		line = fmt.Sprintf("%s --time %v", line, c.Duration("time"))
	}
	return line
}

package main

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/urfave/cli/v2"

	"evenbass/cmd/evenbass/arguments"
	"evenbass/cmd/evenbass/terminal"
	"evenbass/model"
	"evenbass/model/roomfile/phrase"
	"evenbass/optimize/engines"
	"evenbass/optimize/study"
	"evenbass/optimize/whatif"
	"evenbass/report/text"
	"evenbass/report/unit"
	whatifpage "evenbass/report/whatif"
)

// changeFlag collects texts that may contain commas.
type changeFlag []string

// Set implements [flag.Value].
func (f *changeFlag) Set(text string) error { *f = append(*f, text); return nil }

// String implements [flag.Value].
func (f *changeFlag) String() string { return strings.Join(*f, "; ") }

func whatIfCommand(t *terminal.Terminal) *cli.Command {
	text := func(name, usage string) cli.Flag {
		return &cli.GenericFlag{Name: name, Usage: usage, Value: &changeFlag{}}
	}
	return &cli.Command{
		Name: "whatif", Usage: "compare changes to the room", ArgsUsage: "ROOM.yaml [--add '...'] [--study gap] [-o page.html]",
		Description: "Solves the room as it is and with each option, with speakers and seat where they stand.\n" +
			"Options come from the room file or the command line. Each --add, --remove, --move, --double\n" +
			"and --front is one option, unless --together makes them one:\n" +
			"  --add 'rear layer: back wall, film 100 µm + wool 200 mm 6 kPa·s/m²'\n" +
			"  --add 'corner front left 42 cm, wool 6 kPa·s/m²' --remove cloud --together\n" +
			"  --double 'rear layer'     --front 'rear layer: wool 50 mm 6 kPa·s/m²'\n" +
			"A place is one of\n" +
			"  back wall 0.5 m to 2 m, 0.6 m to 1.8 m     any wall, floor or ceiling; along it, then up\n" +
			"  corner front left 42 cm                    two walls that meet, and the leg; then perhaps: square\n" +
			"  cloud X, Y, gap 15 cm                      ranges from the front and the left wall\n" +
			"  panel X, Y, Z                              ranges from front wall, left wall and floor",
		Flags: append([]cli.Flag{
			text("add", "add a treatment, `'NAME: PLACE, LAYER + LAYER'`; may be repeated"),
			text("remove", "the `NAME` of a treatment to remove; may be repeated"),
			text("double", "the `NAME` of a treatment whose wool is doubled; may be repeated"),
			text("front", "put layers before a treatment, `'NAME: LAYER + LAYER'`; may be repeated"),
			text("move", "move a treatment to another place, `'NAME: PLACE'`; may be repeated"),
			&cli.BoolFlag{Name: "together", Usage: "treat all changes as one option"},
			&cli.StringFlag{Name: "study", Usage: "a ready-made comparison, its `NAME`: " + strings.Join(whatif.ReadyMadeNames(), ", ")},
			&cli.BoolFlag{Name: "places", Usage: "also search for the best places with each option, which takes one search each"},
			&cli.StringFlag{Name: "o", Usage: "write the page to this `FILE`"},
			&cli.StringFlag{Name: "json", Usage: "write the result and its curves as JSON to this `FILE` ('-': standard output)"},
			&cli.StringFlag{Name: "csv", Usage: "write one row of figures for each state of the room to this `FILE` ('-': standard output)"},
			memoryFlag(), arguments.FullFlag(), arguments.UnitsFlag(),
		}, signFlags()...),
		Action: func(c *cli.Context) error { return runWhatIf(c, t) },
	}
}

func runWhatIf(c *cli.Context, t *terminal.Terminal) error {
	in, err := readRoom(c, c.String("o"), c.String("json"), c.String("csv"))
	if err != nil {
		return err
	}
	p := in.project
	options, err := gatherOptions(c, p)
	if err != nil {
		return err
	}
	if len(options) == 0 {
		return terminal.UsageError{
			Text: "there is nothing to compare: neither the room file nor the command line has options",
			Hint: "hint: --add 'rear layer: back wall, film 100 µm + wool 200 mm 6 kPa·s/m²', or --study gap",
		}
	}
	if _, ok := p.Now(); !ok {
		return notPlaced(in.path)
	}
	if options, err = allowedOptions(t, p, options, in.style); err != nil {
		return err
	}
	result, err := compare(c, t, p, options)
	if err != nil {
		return err
	}
	w := whatifpage.Report{Project: p, Result: result, Full: c.Bool("full"), Style: in.style, Run: in.runAs(c, whatIfLine(c, in.path))}
	return t.Deliver(
		func() string { return whatifpage.Text(w) },
		terminal.Output{File: c.String("o"), Write: func(out io.Writer) error { return whatifpage.Page(out, w) }},
		terminal.Output{File: c.String("json"), Write: func(out io.Writer) error { return whatifpage.JSON(out, w) }},
		terminal.Output{File: c.String("csv"), Write: func(out io.Writer) error { return whatifpage.CSV(out, w) }},
	)
}

// longComparison is the bound on a comparison beyond which it is announced.
const longComparison = 2 * time.Minute

// compare solves the states of the room and, if that is asked for, searches places for each.
func compare(c *cli.Context, t *terminal.Terminal, p *model.Project, options []model.Option) (*whatif.Comparison, error) {
	if err := checkMemory(c, engines.Auto, p); err != nil {
		return nil, err
	}
	cost, err := study.CompareCost(p, options)
	switch {
	case err != nil:
		return nil, err
	case cost.Time > longestWait:
		return nil, announce(t, cost)
	case cost.Time > longComparison:
		t.Note("the wave solver has %d states of the room to solve, which takes at most %s", 1+len(options), waitText(cost.Time))
	}
	progress, done := t.Progress()
	defer done()
	w, err := study.Compare(c.Context, p, options, progress)
	if err != nil || !c.Bool("places") {
		return w, err
	}
	if cost, err = study.PlaceEachCost(c.Context, w); err != nil {
		return nil, err
	}
	if err := announce(t, cost); err != nil {
		return nil, err
	}
	return w, study.PlaceEach(c.Context, w, progress)
}

// gatherOptions returns the options of the command line or, without any, of the room file.
func gatherOptions(c *cli.Context, p *model.Project) ([]model.Option, error) {
	var options []model.Option
	add := func(flag string, read func(text string) (model.Option, error)) error {
		for _, text := range *c.Generic(flag).(*changeFlag) {
			o, err := read(text)
			if err != nil {
				return terminal.UsageError{Text: fmt.Sprintf("--%s %s: %v", flag, arguments.Quoted(text), err)}
			}
			if _, err := p.With(&o); err != nil && !c.Bool("together") {
				return terminal.UsageError{Text: fmt.Sprintf("--%s %s: %v", flag, arguments.Quoted(text), err)}
			}
			options = append(options, o)
		}
		return nil
	}
	err := errors.Join(
		add("add", func(text string) (model.Option, error) {
			t, err := phrase.Treatment(text, &p.Room, p.Materials...)
			return model.Option{Name: "add " + text, Add: []model.Treatment{t}}, err
		}),
		add("remove", func(text string) (model.Option, error) {
			return model.Option{Name: "remove " + text, Remove: []string{text}}, nil
		}),
		add("double", func(text string) (model.Option, error) {
			return model.Option{Name: "double " + text, Double: []string{text}}, nil
		}),
		add("front", func(text string) (model.Option, error) {
			t, err := phrase.Front(text, p.Materials...)
			return model.Option{Name: "front " + text, Front: []model.Treatment{t}}, err
		}),
		add("move", func(text string) (model.Option, error) {
			t, err := phrase.Place(text, &p.Room)
			return model.Option{Name: "move " + text, Move: []model.Treatment{t}}, err
		}),
	)
	if err != nil {
		return nil, err
	}
	if c.Bool("together") {
		if options, err = together(p, options); err != nil {
			return nil, err
		}
	}
	if name := c.String("study"); name != "" {
		more, err := whatif.ReadyMade(name, p)
		if err != nil {
			return nil, terminal.UsageError{Text: err.Error()}
		}
		options = append(options, more...)
	}
	if len(options) == 0 {
		options = p.Options
	}
	return options, nil
}

// allowedOptions returns the options that block no way out, heater, vent or the like, and says of
// each other one why it is left out. It is an error if none is left.
func allowedOptions(t *terminal.Terminal, p *model.Project, options []model.Option, s unit.Style) ([]model.Option, error) {
	allowed, blocked := p.Allowed(options)
	for _, b := range blocked {
		why := fmt.Sprintf("%s is not allowed: %s %s. Openings, ways out, heaters, sockets and vents must stay usable",
			model.Quote(b.Option), model.Printable(b.By.Piece), text.ObstructionText(b.By.Obstruction, s))
		if len(options) == 1 {
			return nil, terminal.UsageError{Text: why}
		}
		t.Note("%s; the option is left out", why)
	}
	if len(allowed) == 0 {
		return nil, terminal.UsageError{Text: "no option is allowed: each blocks what must stay usable"}
	}
	return allowed, nil
}

// together joins options into one.
func together(p *model.Project, options []model.Option) ([]model.Option, error) {
	if len(options) == 0 {
		return nil, nil
	}
	var all model.Option
	var names []string
	for _, o := range options {
		names = append(names, o.Name)
		all.Remove, all.Move, all.Add = append(all.Remove, o.Remove...), append(all.Move, o.Move...), append(all.Add, o.Add...)
		all.Double, all.Front = append(all.Double, o.Double...), append(all.Front, o.Front...)
	}
	all.Name = strings.Join(names, "; ")
	if _, err := p.With(&all); err != nil {
		return nil, terminal.UsageError{Text: fmt.Sprintf("--together: %v", err)}
	}
	return []model.Option{all}, nil
}

// whatIfLine returns the command line again, quoted for a shell.
func whatIfLine(c *cli.Context, path string) string {
	words := []string{"evenbass whatif"}
	for _, name := range []string{"add", "remove", "move", "double", "front"} {
		for _, text := range *c.Generic(name).(*changeFlag) {
			words = append(words, "--"+name+" "+arguments.Quoted(text))
		}
	}
	words = append(words, arguments.Given(c, "together", "places", "study", "units")...)
	return strings.Join(append(words, arguments.Quoted(path)), " ")
}

package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/urfave/cli/v2"

	"evenbass/cmd/evenbass/arguments"
	"evenbass/cmd/evenbass/terminal"
	"evenbass/model/measure"
	"evenbass/model/measure/analysis"
	"evenbass/model/measure/format"
	"evenbass/optimize/engines"
	"evenbass/optimize/observation"
	"evenbass/report/recording"
)

// inventFlags are those of measure --demo.
func inventFlags() []cli.Flag {
	return []cli.Flag{
		&cli.BoolFlag{Name: "demo", Usage: "invent measurements of the room before and after its treatments, to try things out"},
		&cli.Int64Flag{Name: "seed", Value: 1, Usage: "random seed of what is invented"},
		memoryFlag(),
	}
}

// runInvent invents a pair of measurements and saves them.
func runInvent(c *cli.Context, t *terminal.Terminal) error {
	room, err := readRoom(c)
	if err != nil {
		return err
	}
	if idle := arguments.Given(c, "sweep", "page", "seat", "state", "date", "correction", "channel", "speaker", "smoothing", "phase", "timed", "average", "table", "decays", "modes", "json", "rate"); len(idle) > 0 {
		return terminal.UsageError{
			Text: "measure --demo takes no " + idle[0], Hint: "hint: evenbass measure ROOM.yaml --demo -o demo, then measure one of the files that it saves",
		}
	}
	name := strings.TrimSuffix(c.String("o"), ".txt")
	if name == "" || name == "-" {
		return terminal.UsageError{Text: "measure --demo needs a name for what it saves", Hint: "hint: evenbass measure ROOM.yaml --demo -o demo"}
	}
	if err := checkMemory(c, engines.Auto, room.project); err != nil {
		return err
	}
	cost, err := observation.InventCost(room.project)
	if err != nil {
		return err
	}
	if err := announce(t, cost); err != nil {
		return err
	}
	progress, done := t.Progress()
	pair, err := observation.Invent(c.Context, room.project, c.Int64("seed"), progress)
	done()
	if errors.Is(err, observation.ErrNoStates) {
		return fmt.Errorf("%s: nothing to invent: %w", room.path, err)
	}
	if err != nil {
		return err
	}
	return saveInvented(t, name, room, pair)
}

// saveInvented writes the files of both states and prints their figures.
func saveInvented(t *terminal.Terminal, name string, room roomInput, pair *observation.Invented) error {
	r := recording.Report{Goal: room.project.Goal, Style: room.style, Invented: true, Recording: room.path}
	var outputs []terminal.Output
	var files []terminal.NamedFile
	for _, state := range []struct {
		name string
		list []*measure.Measurement
	}{{"before", pair.Before}, {"after", pair.After}} {
		for _, m := range state.list {
			m.Name = fmt.Sprintf("%s, %v (invented)", state.name, m.Speaker)
			a, err := analysis.New(m, r.Goal)
			if err != nil {
				return err
			}
			file := fmt.Sprintf("%s-%s-%v.txt", name, state.name, m.Speaker)
			r.Measurements, r.Cards, r.Files = append(r.Measurements, m), append(r.Cards, a.Card), append(r.Files, file)
			files = append(files, terminal.NamedFile{Name: "-o", File: file})
			outputs = append(outputs, terminal.Output{File: file, Write: func(w io.Writer) error { return format.Write(w, m) }})
		}
	}
	if err := terminal.Apart(files, room.path); err != nil {
		return err
	}
	return t.Deliver(func() string { return recording.Text(r) }, outputs...)
}

package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"evenbass/cmd/evenbass/arguments"
	"evenbass/cmd/evenbass/terminal"
	"evenbass/model"
	"evenbass/model/build"
	buildpage "evenbass/report/build"
)

func buildCommand(t *terminal.Terminal) *cli.Command {
	return &cli.Command{
		Name: "build", Usage: "list what to buy, cut and hang for the treatments of a room", ArgsUsage: "ROOM.yaml [-o page.html] [--csv FOLDER]",
		Description: "Uses the treatments and the stock of the room file: batts, film, cloth, bags, battens and\n" +
			"prices. Without a stock it assumes usual sizes and says so. It predicts nothing.",
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "option", Usage: "include the option of this `NAME` in the room file"},
			&cli.StringFlag{Name: "o", Usage: "write the page, with one sheet for each wall, to this `FILE`"},
			&cli.StringFlag{Name: "csv", Usage: "write shopping.csv, pieces.csv and cuts.csv into this `FOLDER`. A name that ends in .csv gets only the shopping list ('-': standard output)"},
			arguments.FullFlag(), arguments.UnitsFlag(),
		}, signFlags()...),
		Action: func(c *cli.Context) error { return runBuild(c, t) },
	}
}

func runBuild(c *cli.Context, t *terminal.Terminal) error {
	in, err := readRoom(c, c.String("o"))
	if err != nil {
		return err
	}
	if err := csvWritable(c.String("csv")); err != nil {
		return err
	}
	p, path := in.project, in.path
	option := c.String("option")
	if option != "" {
		if p, err = withOption(p, path, option); err != nil {
			return err
		}
	}
	plan, err := build.Make(p)
	if err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	b := buildpage.Report{
		Project: p, Plan: plan, Style: in.style, Option: option, Full: c.Bool("full"),
		Run: in.run(c, "option", "units"),
	}
	outputs := []terminal.Output{{File: c.String("o"), Write: func(w io.Writer) error { return buildpage.Page(w, b) }}}
	outputs = append(outputs, csvOutputs(c.String("csv"), buildpage.Tables(b))...)
	return t.Deliver(func() string { return buildpage.Text(b) }, outputs...)
}

// withOption returns the project with an option of its file applied.
func withOption(p *model.Project, path, name string) (*model.Project, error) {
	var names []string
	for i := range p.Options {
		if p.Options[i].Name == name {
			q, err := p.With(&p.Options[i])
			if err != nil {
				return nil, fmt.Errorf("%s: option %q: %w", path, name, err)
			}
			return q, nil
		}
		names = append(names, fmt.Sprintf("%q", p.Options[i].Name))
	}
	if len(names) == 0 {
		return nil, terminal.UsageError{Text: fmt.Sprintf("%s has no options, so none called %q", path, name)}
	}
	return nil, terminal.UsageError{
		Text: fmt.Sprintf("%s has no option called %q", path, name),
		Hint: "hint: its options are " + strings.Join(names, ", "),
	}
}

// csvFile reports whether a name for tables is that of one file, not of a folder.
func csvFile(name string) bool {
	return name == "-" || strings.EqualFold(filepath.Ext(name), ".csv")
}

// csvWritable reports early whether tables can be written.
func csvWritable(name string) error {
	if name == "" || csvFile(name) {
		return terminal.Writable(name)
	}
	switch info, err := os.Stat(name); {
	case errors.Is(err, os.ErrNotExist):
		return fmt.Errorf("cannot write tables into %s: the folder does not exist; make it first, or give a name that ends in .csv", name)
	case err != nil:
		return fmt.Errorf("cannot write tables into %s: %w", name, terminal.Bare(err))
	case !info.IsDir():
		return fmt.Errorf("cannot write tables into %s: it is a file; give a folder, or a name that ends in .csv", name)
	}
	return terminal.Writable(filepath.Join(name, "shopping.csv"))
}

// csvOutputs returns the files of the tables: all in a folder, or the first in a file.
func csvOutputs(name string, tables []buildpage.Table) []terminal.Output {
	if name == "" {
		return nil
	}
	if csvFile(name) {
		return []terminal.Output{{File: name, Write: tables[0].Write}}
	}
	var list []terminal.Output
	for _, table := range tables {
		list = append(list, terminal.Output{File: filepath.Join(name, table.File), Write: table.Write})
	}
	return list
}

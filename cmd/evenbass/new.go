package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/urfave/cli/v2"

	"evenbass/cmd/evenbass/arguments"
	"evenbass/cmd/evenbass/interview"
	"evenbass/cmd/evenbass/terminal"
	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/roomfile"
	"evenbass/model/roomfile/phrase"
	"evenbass/model/roomfile/quantity"
)

func newCommand(t *terminal.Terminal) *cli.Command {
	flags := []cli.Flag{
		&cli.StringFlag{Name: "length", Usage: "`LENGTH` from the wall in front of you to the wall behind you: '4.31 m', '14 ft 2 in'"},
		&cli.StringFlag{Name: "width", Usage: "`LENGTH` from the left to the right wall"},
		&cli.StringFlag{Name: "height", Usage: "`LENGTH` from floor to ceiling"},
		&cli.StringFlag{Name: "name", Usage: "`NAME` of the room", Value: "My room"},
		&cli.StringFlag{Name: "walls", Usage: "`CONSTRUCTION` of all four walls, unless a wall has its own flag"},
		&cli.BoolFlag{Name: "ask", Usage: "ask for everything, one question at a time, as new does by itself on a terminal if no sizes are given"},
		&cli.BoolFlag{Name: "force", Usage: "overwrite an existing file"},
		&cli.BoolFlag{Name: "list", Usage: "list the constructions that walls can be made of"},
	}
	for _, f := range model.Faces {
		flags = append(flags, &cli.StringFlag{Name: f.String(), Usage: "`CONSTRUCTION` of the " + f.Wall()})
	}
	return &cli.Command{
		Name: "new", Usage: "write a commented room file to start from", ArgsUsage: "ROOM.yaml --length '4.31 m' --width '3.28 m' --height '2.45 m'",
		Flags:  flags,
		Action: func(c *cli.Context) error { return runNew(c, t) },
	}
}

func runNew(c *cli.Context, t *terminal.Terminal) error {
	if c.Bool("list") {
		t.Print(interview.Constructions())
		return nil
	}
	if asked(c) {
		return runInterview(c, t)
	}
	path, err := arguments.OneFile(c, "the name of the file to write")
	if err != nil {
		return err
	}
	settings, err := starterSettings(c)
	if err != nil {
		return err
	}
	var text bytes.Buffer
	if err := roomfile.Starter(&text, settings); err != nil {
		return starterFault(err)
	}
	if err := free(c, path); err != nil {
		return err
	}
	if err := t.WriteFile(path, func(w io.Writer) error { _, err := text.WriteTo(w); return err }); err != nil {
		return err
	}
	if path != "-" {
		t.Note("wrote %s; add where things are and may go, then run: evenbass check %s", path, path)
	}
	return nil
}

// free reports a file that cannot be written, or is there already and is to stay.
func free(c *cli.Context, path string) error {
	if err := terminal.Writable(path); err != nil {
		return err
	}
	if _, err := os.Stat(path); err == nil && path != "-" && !c.Bool("force") {
		return terminal.UsageError{
			Text: fmt.Sprintf("%s exists already and was not changed", path),
			Hint: "hint: choose another name, or --force to overwrite it",
		}
	}
	return nil
}

// asked reports whether the room is to be asked for: on a terminal, unless sizes are given.
func asked(c *cli.Context) bool {
	return c.Bool("ask") || terminal.Interactive(os.Stdin) && !c.IsSet("length") && !c.IsSet("width") && !c.IsSet("height")
}

// runInterview asks about the room and writes its file.
func runInterview(c *cli.Context, t *terminal.Terminal) error {
	path := "room.yaml"
	if c.Args().Present() {
		var err error
		if path, err = arguments.OneFile(c, "the name of the file to write"); err != nil {
			return err
		}
	}
	if err := free(c, path); err != nil {
		return err
	}
	text, imperial, err := interview.Room(os.Stdin, t.Stderr())
	if err != nil {
		return err
	}
	if err := t.WriteFile(path, func(w io.Writer) error { _, err := io.WriteString(w, text); return err }); err != nil {
		return err
	}
	if path != "-" {
		units := ""
		if imperial {
			units = "--units imperial "
		}
		t.Note("wrote %s; next: evenbass plan %s-o plan.html %s", path, units, path)
	}
	return nil
}

// starterFault names the flags whose sizes make no room. The other faults of such a room follow
// from these.
func starterFault(err error) error {
	var faults *roomfile.Error
	if !errors.As(err, &faults) {
		return err
	}
	var list []string
	for _, f := range faults.Faults {
		if flag, ok := strings.CutPrefix(f.Path, "room."); ok {
			list = append(list, "--"+flag+" "+f.What)
		}
	}
	if len(list) == 0 {
		return err
	}
	return terminal.UsageError{Text: strings.Join(list, "\n")}
}

func starterSettings(c *cli.Context) (roomfile.StarterSettings, error) {
	s := roomfile.StarterSettings{Name: c.String("name")}
	if _, err := phrase.Name(s.Name); err != nil {
		return s, terminal.UsageError{Text: fmt.Sprintf("--name: %v", err)}
	}
	for _, size := range []struct {
		flag string
		to   *float64
	}{{"length", &s.Size.X}, {"width", &s.Size.Y}, {"height", &s.Size.Z}} {
		text := c.String(size.flag)
		if text == "" {
			return s, terminal.UsageError{
				Text: "new needs the room's --length, --width and --height",
				Hint: "hint: evenbass new --length '4.31 m' --width '3.28 m' --height '2.45 m' room.yaml, or --ask",
			}
		}
		v, err := quantity.ParseLength(text)
		if err != nil {
			return s, terminal.UsageError{Text: fmt.Sprintf("--%s: %v", size.flag, err)}
		}
		*size.to = v
	}
	for _, f := range model.Faces {
		name := c.String(f.String())
		if name == "" && f.Axis() < 2 {
			name = c.String("walls")
		}
		if _, known := material.Lookup(name); name != "" && !known {
			return s, noConstruction(name)
		}
		s.Walls[f] = name
	}
	return s, nil
}

// noConstruction says that no construction has that name, and which one may be meant.
func noConstruction(name string) error {
	text := fmt.Sprintf("no construction is called %q", name)
	if n := material.Nearest(name); n != "unknown" {
		text += fmt.Sprintf("; the nearest is %q", n)
	}
	return terminal.UsageError{Text: text, Hint: "hint: `evenbass new --list` lists them all"}
}

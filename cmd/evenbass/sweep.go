package main

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"evenbass/cmd/evenbass/arguments"
	"evenbass/cmd/evenbass/terminal"
	"evenbass/model"
	"evenbass/model/measure/format"
	"evenbass/model/measure/sweep"
	"evenbass/report/recording"
)

func sweepCommand(t *terminal.Terminal) *cli.Command {
	usual := sweep.Default()
	return &cli.Command{
		Name: "sweep", Usage: "write a test signal to measure with, and a checklist", ArgsUsage: "-o sweep.wav [ROOM.yaml]",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "o", Usage: "write the test signal, WAV, to this `FILE`"},
			&cli.StringFlag{Name: "parts", Value: "left,right,both", Usage: "what to play, one after another: left, right, both, sub"},
			&cli.Float64Flag{Name: "from", Value: usual.From, Usage: "lowest frequency, `HZ`"},
			&cli.Float64Flag{Name: "to", Value: usual.To, Usage: "highest frequency, `HZ`"},
			&cli.Float64Flag{Name: "length", Value: usual.Length, Usage: "length of each sweep, `SECONDS`"},
			&cli.Float64Flag{Name: "pause", Value: usual.Pause, Usage: "silence after each sweep, `SECONDS`; a room of bare concrete needs 5"},
			&cli.Float64Flag{Name: "level", Value: float64(usual.Level), Usage: "level of the sweep's peaks in `DB` re full scale"},
			&cli.IntFlag{Name: "rate", Value: int(usual.Rate), Usage: "samples a second"},
			arguments.UnitsFlag(),
		},
		Action: func(c *cli.Context) error { return runSweep(c, t) },
	}
}

func runSweep(c *cli.Context, t *terminal.Terminal) error {
	file := c.String("o")
	if file == "" {
		return terminal.UsageError{Text: "sweep needs the name of the file to write", Hint: "hint: evenbass sweep -o sweep.wav"}
	}
	switch strings.ToLower(filepath.Ext(file)) {
	case ".mp3", ".m4a", ".ogg", ".flac", ".aiff", ".aif":
		return terminal.UsageError{Text: "sweep writes WAV, and " + model.Quote(file) + " is named as something else", Hint: "hint: evenbass sweep -o sweep.wav"}
	}
	s, err := sweepOf(c)
	if err != nil {
		return err
	}
	list := recording.Checklist{Sweep: s, File: filepath.Base(file)}
	if list.Style, err = arguments.UnitStyle(c); err != nil {
		return err
	}
	if c.NArg() > 0 {
		in, err := readRoom(c, file)
		if err != nil {
			return err
		}
		list.Room, list.Project = in.path, in.project
	}
	rec, err := s.Recording()
	if err != nil {
		return err
	}
	return t.Deliver(
		func() string { return recording.ChecklistText(list) },
		terminal.Output{File: file, Write: func(w io.Writer) error { return format.WriteWAV(w, rec) }},
	)
}

// sweepOf returns the sweep that the flags ask for.
func sweepOf(c *cli.Context) (sweep.Sweep, error) {
	s := sweep.Sweep{
		From: c.Float64("from"), To: c.Float64("to"), Length: c.Float64("length"), Pause: c.Float64("pause"),
		Level: model.Level(c.Float64("level")), Rate: float64(c.Int("rate")),
	}
	for word := range strings.SplitSeq(c.String("parts"), ",") {
		source, err := sourceOf("--parts", strings.TrimSpace(word))
		if err != nil {
			return s, err
		}
		s.Parts = append(s.Parts, source)
	}
	if err := s.Check(); err != nil {
		return s, terminal.UsageError{Text: err.Error()}
	}
	return s, nil
}

// sourceOf returns the source that a word names.
func sourceOf(flag, word string) (model.Source, error) {
	at := slices.IndexFunc(model.Sources, func(s model.Source) bool { return s.String() == word })
	if at < 0 {
		return 0, terminal.UsageError{Text: fmt.Sprintf("%s takes left, right, both and sub, not %q", flag, word)}
	}
	return model.Sources[at], nil
}

package main

import (
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"github.com/urfave/cli/v2"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/roomfile"
	"evenbass/report"
)

func absorbCommand(t *terminal) *cli.Command {
	return &cli.Command{
		Name: "absorb", Usage: "compute what build-ups of wool, film, air and board take up",
		ArgsUsage: "'LAYER, LAYER, ...' ['LAYER, ...'] [-o page.html]",
		Description: "A build-up is its layers, the one that faces the room first:\n" +
			"   evenbass absorb 'wool 50 mm 10 kPa·s/m², film 100 µm, wool 200 mm 6 kPa·s/m²'\n" +
			"Several are compared. With --from, the treatments of a room file on their own walls.",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "o", Usage: "write the page to this file"},
			&cli.StringFlag{Name: "csv", Usage: "write the curves as CSV to this file ('-': standard output)"},
			&cli.StringFlag{Name: "wall", Value: "rigid", Usage: "the construction behind the build-ups given as arguments"},
			&cli.StringFlag{Name: "from", Usage: "take treatments, air and own materials from this room file"},
			&cli.StringFlag{Name: "treatment", Usage: "only this treatment of the room file"},
			unitsFlag(),
		},
		Action: func(c *cli.Context) error { return absorb(c, t) },
	}
}

func absorb(c *cli.Context, t *terminal) error {
	style, err := unitStyle(c)
	if err != nil {
		return err
	}
	for _, file := range []string{c.String("o"), c.String("csv")} {
		if err := writable(file); err != nil {
			return err
		}
	}
	a := report.Absorption{Style: style, Run: report.Run{Command: absorbLine(c), Version: version(), Date: time.Now()}}
	samples, err := gatherSamples(c, &a)
	if err != nil {
		return err
	}
	for _, s := range samples {
		b, err := s.buildUp()
		if err != nil {
			return err
		}
		a.BuildUps = append(a.BuildUps, b)
	}
	return deliverAbsorption(c, t, a)
}

// gatherSamples returns the build-ups that the command line names, those of the room
// file first.
func gatherSamples(c *cli.Context, a *report.Absorption) ([]sample, error) {
	var samples []sample
	var project *model.Project
	air := model.AirAt(0)
	if path := c.String("from"); path != "" {
		p, err := roomfile.ReadFile(path)
		if err != nil {
			return nil, err
		}
		if samples, err = treatmentSamples(c, p); err != nil {
			return nil, err
		}
		source, err := os.ReadFile(path)
		if err != nil {
			return nil, fmt.Errorf("cannot read %s again: %w", path, cause(err))
		}
		project, air = p, p.Room.Air()
		a.Title, a.Run.Source, a.Run.File = p.Room.Name, string(source), path
	} else if c.String("treatment") != "" {
		return nil, usageError{text: "--treatment needs --from", hint: "hint: evenbass absorb --from room.yaml --treatment 'rear layer'"}
	}
	own, err := argumentSamples(c, project, air)
	if err != nil {
		return nil, err
	}
	samples = append(samples, own...)
	switch most := report.MaxBuildUps(); {
	case len(samples) == 0:
		return nil, usageError{
			text: "absorb needs a build-up",
			hint: "hint: evenbass absorb 'wool 200 mm 6 kPa·s/m², film 100 µm, wool 50 mm 6 kPa·s/m²'",
		}
	case len(samples) > most:
		return nil, usageError{text: fmt.Sprintf("absorb compares at most %d build-ups, have %d", most, len(samples)), hint: "hint: name one with --treatment"}
	}
	return samples, nil
}

// argumentSamples reads the build-ups given as arguments.
func argumentSamples(c *cli.Context, p *model.Project, air model.Air) ([]sample, error) {
	wall, backing, err := wallBehind(c.String("wall"))
	if err != nil {
		return nil, err
	}
	var samples []sample
	for i, text := range c.Args().Slice() {
		where := "build-up"
		if c.NArg() > 1 {
			where = fmt.Sprintf("build-up %d", i+1)
		}
		layers, err := parseLayers(text, p)
		if err != nil {
			return nil, usageError{text: fmt.Sprintf("%s: %v", where, err)}
		}
		samples = append(samples, sample{
			text: text, where: where, layers: layers, wall: wall,
			options: material.Options{Air: air, Backing: backing}, typed: true,
		})
	}
	return samples, nil
}

// parseLayers reads a build-up; a room file's own materials may be named in it.
func parseLayers(text string, p *model.Project) ([]model.Layer, error) {
	if p == nil {
		return roomfile.ParseLayers(text)
	}
	return roomfile.ParseLayers(text, p.Materials...)
}

// wallBehind returns a construction by its name, with how to call it; rigid is nil.
func wallBehind(name string) (string, model.Boundary, error) {
	c, ok := material.Lookup(name)
	if !ok {
		return "", nil, usageError{
			text: fmt.Sprintf("no construction is called %q; the nearest is %q", name, material.Nearest(name)),
			hint: "hint: `evenbass new --list` lists them all",
		}
	}
	if c.Name == "rigid" {
		return "a rigid wall", nil, nil
	}
	return c.Name, c.At(material.Typical), nil
}

// treatmentSamples returns the treatments of a room file, or the one that is named.
func treatmentSamples(c *cli.Context, p *model.Project) ([]sample, error) {
	bare := p.Room // the walls without what hangs on them
	bare.Treatments, bare.Openings = nil, nil
	box, _, err := material.Box(&bare, material.Typical)
	if err != nil {
		return nil, err
	}
	wanted := c.String("treatment")
	var samples []sample
	var known []string
	for _, t := range p.Room.Treatments {
		known = append(known, fmt.Sprintf("%q", t.Name))
		if wanted != "" && t.Name != wanted {
			continue
		}
		face := t.Patch.Face
		samples = append(samples, sample{
			name: t.Name, text: layersText(t.Layers), where: fmt.Sprintf("treatment %q", t.Name), layers: t.Layers,
			wall:    "the " + face.Wall() + ", " + wallRow("", 0, p.Room.Walls[face]).Taken,
			options: material.Options{Air: p.Room.Air(), Backing: box.Walls[face]},
		})
	}
	switch {
	case len(known) == 0 && (wanted != "" || c.NArg() == 0):
		return nil, fmt.Errorf("%s has no treatments", c.String("from"))
	case wanted != "" && len(samples) == 0:
		return nil, usageError{
			text: fmt.Sprintf("%s has no treatment called %q", c.String("from"), wanted),
			hint: "hint: its treatments are " + strings.Join(known, ", "),
		}
	}
	return samples, nil
}

// layersText joins the phrases of layers as a command line would have them.
func layersText(layers []model.Layer) string {
	var phrases []string
	for _, l := range layers {
		phrases = append(phrases, l.Text)
	}
	return strings.Join(phrases, ", ")
}

// absorbLine is the command line again, quoted for a shell.
func absorbLine(c *cli.Context) string {
	words := []string{"evenbass absorb"}
	for _, name := range []string{"from", "treatment", "wall", "units"} {
		if c.IsSet(name) {
			words = append(words, "--"+name+" "+quoted(c.String(name)))
		}
	}
	for _, text := range c.Args().Slice() {
		words = append(words, quoted(text))
	}
	return strings.Join(words, " ")
}

func quoted(text string) string { return "'" + strings.ReplaceAll(text, "'", `'\''`) + "'" }

// deliverAbsorption writes the files that were asked for and prints the text.
func deliverAbsorption(c *cli.Context, t *terminal, a report.Absorption) error {
	toStdout := false
	for _, out := range []struct {
		file  string
		write func(io.Writer) error
	}{
		{c.String("o"), func(w io.Writer) error { return report.AbsorptionPage(w, a) }},
		{c.String("csv"), func(w io.Writer) error { return report.AbsorptionCSV(w, a) }},
	} {
		if out.file == "" {
			continue
		}
		toStdout = toStdout || out.file == "-"
		if err := t.writeFile(out.file, out.write); err != nil {
			return err
		}
	}
	if !toStdout {
		t.print(report.AbsorptionText(a))
	}
	return nil
}

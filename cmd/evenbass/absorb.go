package main

import (
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/urfave/cli/v2"

	"evenbass/cmd/evenbass/arguments"
	"evenbass/cmd/evenbass/terminal"
	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/absorber"
	"evenbass/model/material/absorption"
	"evenbass/model/roomfile/phrase"
	"evenbass/report/absorb"
	"evenbass/report/html"
)

func absorbCommand(t *terminal.Terminal) *cli.Command {
	return &cli.Command{
		Name: "absorb", Usage: "compute how much build-ups of wool, film, air and board absorb",
		ArgsUsage: "'LAYER, LAYER, ...' ['LAYER, ...'] [-o page.html]",
		Description: "Write a build-up as its layers, starting with the one that faces the room:\n" +
			"   evenbass absorb 'wool 50 mm 10 kPa·s/m², film 100 µm, wool 200 mm 6 kPa·s/m²'\n" +
			"Give several to compare them. --from computes a room file's treatments on their own walls.",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "o", Usage: "write the page to this `FILE`"},
			&cli.StringFlag{Name: "csv", Usage: "write the curves as CSV to this `FILE` ('-': standard output)"},
			&cli.StringFlag{Name: "wall", Value: "rigid", Usage: "the `CONSTRUCTION` behind the build-ups that are given as arguments"},
			&cli.StringFlag{Name: "from", Usage: "use the treatments, air and materials of this room `FILE`"},
			&cli.StringFlag{Name: "treatment", Usage: "use only the treatment of this `NAME`"},
			&cli.BoolFlag{Name: "list", Usage: "list the materials for layers"},
			arguments.FullFlag(), arguments.UnitsFlag(),
		},
		Action: func(c *cli.Context) error { return runAbsorb(c, t) },
	}
}

func runAbsorb(c *cli.Context, t *terminal.Terminal) error {
	style, err := arguments.UnitStyle(c)
	if err != nil {
		return err
	}
	if c.Bool("list") {
		t.Print(materialList())
		return nil
	}
	if err := terminal.Apart(arguments.OutputsOf(c), c.String("from")); err != nil {
		return err
	}
	for _, file := range []string{c.String("o"), c.String("csv")} {
		if err := terminal.Writable(file); err != nil {
			return err
		}
	}
	a := absorb.Report{Style: style, Full: c.Bool("full"), Run: html.Run{Command: arguments.Again(c, "from", "treatment", "wall", "units"), Version: version(), Date: time.Now()}}
	samples, err := gatherSamples(c, &a)
	if err != nil {
		return err
	}
	for _, s := range samples {
		b, err := s.BuildUp()
		if err != nil {
			return s.fail(err)
		}
		a.BuildUps = append(a.BuildUps, b)
	}
	return deliverAbsorption(c, t, a)
}

// materialList lists every material of the library with its figures.
func materialList() string {
	var b strings.Builder
	for _, m := range absorber.Materials() {
		var figures []string
		add := func(s material.Span, scale float64, unit string) {
			if s.Typical > 0 {
				figures = append(figures, fmt.Sprintf("%.4g (%.4g–%.4g) %s", s.Typical/scale, s.Low/scale, s.High/scale, unit))
			}
		}
		add(m.Resistivity, 1000, "kPa·s/m²")
		add(m.Density, 1, "kg/m³")
		add(m.SurfaceMass, 1, "kg/m²")
		fmt.Fprintf(&b, "%-24s %s\n", m.Name, strings.Join(figures, ", "))
	}
	return b.String()
}

// deliverAbsorption writes the files that were asked for and prints the text.
func deliverAbsorption(c *cli.Context, t *terminal.Terminal, a absorb.Report) error {
	return t.Deliver(
		func() string { return absorb.Text(a) },
		terminal.Output{File: c.String("o"), Write: func(w io.Writer) error { return absorb.Page(w, a) }},
		terminal.Output{File: c.String("csv"), Write: func(w io.Writer) error { return absorb.CSV(w, a) }},
	)
}

// sample is a build-up with what to call it in a message.
type sample struct {
	absorption.Sample
	where string
	typed bool // on the command line, where its mistakes are mistakes of usage
}

func (s *sample) fail(err error) error {
	if s.typed {
		return terminal.UsageError{Text: fmt.Sprintf("%s: %v", s.where, err)}
	}
	return fmt.Errorf("%s: %w", s.where, err)
}

// gatherSamples returns the build-ups that the command line names, those of the room file first.
func gatherSamples(c *cli.Context, a *absorb.Report) ([]sample, error) {
	var samples []sample
	var project *model.Project
	air := model.AirAt(0)
	if path := c.String("from"); path != "" {
		p, source, err := readFile(c.Context, path)
		if err != nil {
			return nil, err
		}
		if samples, err = treatmentSamples(c, p); err != nil {
			return nil, err
		}
		project, air = p, p.Room.Air()
		a.Title, a.Run.Source, a.Run.File = p.Room.Name, source, path
	} else if c.String("treatment") != "" {
		return nil, terminal.UsageError{Text: "--treatment needs --from", Hint: "hint: evenbass absorb --from room.yaml --treatment 'rear layer'"}
	}
	own, err := argumentSamples(c, project, air)
	if err != nil {
		return nil, err
	}
	samples = append(samples, own...)
	switch most := absorb.MaxBuildUps; {
	case len(samples) == 0:
		return nil, terminal.UsageError{
			Text: "absorb needs a build-up",
			Hint: "hint: evenbass absorb 'wool 200 mm 6 kPa·s/m², film 100 µm, wool 50 mm 6 kPa·s/m²'",
		}
	case len(samples) > most:
		return nil, terminal.UsageError{Text: fmt.Sprintf("absorb compares at most %d build-ups, have %d", most, len(samples)), Hint: "hint: name one with --treatment"}
	}
	return samples, nil
}

// argumentSamples reads the build-ups given as arguments.
func argumentSamples(c *cli.Context, p *model.Project, air model.Air) ([]sample, error) {
	wall, backing, ok := absorption.WallBehind(c.String("wall"))
	if !ok {
		return nil, noConstruction(c.String("wall"))
	}
	var samples []sample
	for i, text := range c.Args().Slice() {
		where := "build-up"
		if c.NArg() > 1 {
			where = fmt.Sprintf("build-up %d", i+1)
		}
		layers, err := parseLayers(text, p)
		if err != nil {
			return nil, terminal.UsageError{Text: fmt.Sprintf("%s: %v", where, err), Hint: "hint: `evenbass absorb --list` lists the materials"}
		}
		samples = append(samples, sample{where: where, typed: true, Sample: absorption.Sample{
			Text: text, Layers: layers, Wall: wall, Own: ownMaterials(p),
			Options: absorber.Options{Air: air, Backing: backing},
		}})
	}
	return samples, nil
}

// parseLayers reads a build-up, which may name the room file's own materials.
func parseLayers(text string, p *model.Project) ([]model.Layer, error) {
	return phrase.Layers(text, ownMaterials(p)...)
}

// ownMaterials returns a room file's own materials; without a file there are none.
func ownMaterials(p *model.Project) []model.Material {
	if p == nil {
		return nil
	}
	return p.Materials
}

// treatmentSamples returns the treatments of a room file, or the one that is named.
func treatmentSamples(c *cli.Context, p *model.Project) ([]sample, error) {
	all, err := absorption.TreatmentSamples(p)
	if err != nil {
		return nil, err
	}
	wanted, file := c.String("treatment"), c.String("from")
	var samples []sample
	for _, s := range all {
		if wanted == "" || s.Name == wanted {
			samples = append(samples, sample{Sample: s, where: fmt.Sprintf("treatment %q", s.Name)})
		}
	}
	if len(samples) > 0 || wanted == "" && c.NArg() > 0 {
		return samples, nil
	}
	var known []string
	for _, t := range p.Room.Treatments {
		if t.Name == wanted {
			return nil, fmt.Errorf("treatment %q is %s: absorb computes layers on a wall; `predict` models this one where it is", t.Name, t.Where())
		}
		known = append(known, fmt.Sprintf("%q", t.Name))
	}
	switch {
	case len(known) == 0:
		return nil, fmt.Errorf("%s has no treatments", file)
	case wanted == "":
		return nil, fmt.Errorf("%s has no treatments on walls, and absorb computes no others", file)
	}
	return nil, terminal.UsageError{
		Text: fmt.Sprintf("%s has no treatment called %q", file, wanted),
		Hint: "hint: its treatments are " + strings.Join(known, ", "),
	}
}

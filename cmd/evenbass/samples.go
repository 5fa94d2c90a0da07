package main

import (
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"evenbass/model"
	"evenbass/model/material/absorber"
	"evenbass/model/roomfile"
	"evenbass/optimize/study"
	"evenbass/report/absorb"
)

// sample is a build-up with what to call it in a message.
type sample struct {
	study.Sample
	where string
	typed bool // on the command line, where its mistakes are mistakes of usage
}

func (s *sample) fail(err error) error {
	if s.typed {
		return usageError{text: fmt.Sprintf("%s: %v", s.where, err)}
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
		return nil, usageError{text: "--treatment needs --from", hint: "hint: evenbass absorb --from room.yaml --treatment 'rear layer'"}
	}
	own, err := argumentSamples(c, project, air)
	if err != nil {
		return nil, err
	}
	samples = append(samples, own...)
	switch most := absorb.MaxBuildUps; {
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
	wall, backing, ok := study.WallBehind(c.String("wall"))
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
			return nil, usageError{text: fmt.Sprintf("%s: %v", where, err), hint: "hint: `evenbass absorb --list` lists the materials"}
		}
		samples = append(samples, sample{where: where, typed: true, Sample: study.Sample{
			Text: text, Layers: layers, Wall: wall, Own: ownMaterials(p),
			Options: absorber.Options{Air: air, Backing: backing},
		}})
	}
	return samples, nil
}

// parseLayers reads a build-up, which may name the room file's own materials.
func parseLayers(text string, p *model.Project) ([]model.Layer, error) {
	return roomfile.ParseLayers(text, ownMaterials(p)...)
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
	all, err := study.TreatmentSamples(p)
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
	return nil, usageError{
		text: fmt.Sprintf("%s has no treatment called %q", file, wanted),
		hint: "hint: its treatments are " + strings.Join(known, ", "),
	}
}

package main

import (
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/roomfile"
	"evenbass/report"
)

// gatherSamples returns the build-ups that the command line names, those of the room
// file first.
func gatherSamples(c *cli.Context, a *report.Absorption) ([]sample, error) {
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
	switch most := report.MaxBuildUps; {
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
			return nil, usageError{text: fmt.Sprintf("%s: %v", where, err), hint: "hint: `evenbass absorb --list` lists the materials"}
		}
		samples = append(samples, sample{
			text: text, where: where, layers: layers, wall: wall,
			options: material.Options{Air: air, Backing: backing}, own: ownMaterials(p), typed: true,
		})
	}
	return samples, nil
}

// parseLayers reads a build-up; a room file's own materials may be named in it.
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

// wallBehind returns a construction by its name, with how to call it; rigid is nil.
func wallBehind(name string) (string, model.Boundary, error) {
	c, ok := material.Lookup(name)
	if !ok {
		return "", nil, noConstruction(name)
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
		t, ok := asLayer(t)
		switch {
		case !ok && wanted != "":
			return nil, fmt.Errorf("treatment %q is %s: absorb computes layers on a wall; `predict` draws this one where it is", t.Name, t.Where())
		case !ok:
			continue
		}
		face := t.Patch.Face
		samples = append(samples, sample{
			name: t.Name, text: layersText(t.Layers), where: fmt.Sprintf("treatment %q", t.Name), layers: t.Layers,
			wall:    "the " + face.Wall() + ", " + wallRow("", 0, p.Room.Walls[face]).Taken,
			options: material.Options{Air: p.Room.Air(), Backing: box.Walls[face]}, own: p.Materials,
		})
	}
	switch {
	case len(known) == 0 && (wanted != "" || c.NArg() == 0):
		return nil, fmt.Errorf("%s has no treatments", c.String("from"))
	case len(samples) == 0 && wanted == "" && c.NArg() == 0:
		return nil, fmt.Errorf("%s has no treatments on walls, and absorb computes no others", c.String("from"))
	case wanted != "" && len(samples) == 0:
		return nil, usageError{
			text: fmt.Sprintf("%s has no treatment called %q", c.String("from"), wanted),
			hint: "hint: its treatments are " + strings.Join(known, ", "),
		}
	}
	return samples, nil
}

// asLayer returns a treatment as layers on a wall; a cloud is one on the ceiling with air
// behind it. What is in a corner or stands free is none.
func asLayer(t model.Treatment) (model.Treatment, bool) {
	switch t.Form {
	case model.OnWall:
		return t, true
	case model.UnderCeiling:
		t.Patch.Face = model.Ceiling
		if t.Gap > 0 {
			air := model.Layer{Kind: model.GapLayer, Thickness: t.Gap, Text: fmt.Sprintf("air %.4g mm", 1000*t.Gap)}
			t.Layers = append(t.Layers[:len(t.Layers):len(t.Layers)], air)
		}
		return t, true
	}
	return t, false
}

// layersText joins the phrases of layers as a command line would have them.
func layersText(layers []model.Layer) string {
	var phrases []string
	for _, l := range layers {
		phrases = append(phrases, l.Text)
	}
	return strings.Join(phrases, ", ")
}

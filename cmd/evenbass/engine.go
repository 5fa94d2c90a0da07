package main

import (
	"fmt"
	"runtime"

	"github.com/urfave/cli/v2"

	"evenbass/model"
	"evenbass/model/image"
	"evenbass/model/material"
	"evenbass/model/mode"
	"evenbass/model/wave"
	"evenbass/optimize"

	"gonum.org/v1/gonum/spatial/r3"
)

func engineFlag() cli.Flag {
	return &cli.StringFlag{
		Name: "engine", Value: "auto",
		Usage: "the `ENGINE` that computes the sound: mode (exact in a box with even walls), wave (any room and treatment, slower), image (mirror images) or auto, which is mode or wave",
	}
}

// How far images are followed. At -45 dB the levels of a damped room are within
// hundredths of a decibel of the full sum; between two bare masonry walls that
// would take a kilometre and minutes a place, so the length is capped, and the
// engine warns when the cap comes first.
const (
	imageDecay  = -45 // dB
	imageLength = 150 // m
)

// choice is the engine that answers for a room.
type choice struct {
	name string // "mode", "image", "wave"
	why  string // one clause; empty if the user has named it
}

// choose returns the engine of that name; "auto" is the modal field, which is exact
// in a plain box with even walls, and the wave solver in every other room.
func choose(name string, room *model.Room) (choice, error) {
	switch name {
	case "auto":
		if why := oddities(room); why != "" {
			return choice{"wave", why}, nil
		}
		return choice{"mode", "the room is a plain box with even walls"}, nil
	case "mode", "image":
		if !room.Plain() {
			return choice{}, usageError{
				text: fmt.Sprintf("the %s engine needs a plain box, and this room has %s", name, shapeOf(room)),
				hint: "hint: use --engine wave, or leave --engine out",
			}
		}
		return choice{name: name}, nil
	case "wave":
		return choice{name: name}, nil
	}
	return choice{}, usageError{
		text: fmt.Sprintf("there is no engine %q", name),
		hint: "hint: the engines are auto, mode, image, wave",
	}
}

func shapeOf(room *model.Room) string {
	if len(room.Outline) > 0 {
		return "an outline"
	}
	return "a sloped ceiling"
}

// oddities says why a room wants the wave solver, or "".
func oddities(room *model.Room) string {
	switch {
	case !room.Plain():
		return "the room has " + shapeOf(room)
	case len(room.Treatments) > 0:
		return "treatments are in it where they stand"
	case len(room.Blocks) > 0:
		return "solid blocks are in it"
	}
	for _, o := range room.Openings {
		if o.Patch.Area() >= unevenArea && strong(o) {
			return fmt.Sprintf("the %s in the %s takes up far more than the wall about it", o.Kind, room.OpeningWall(&o))
		}
	}
	return ""
}

// An opening of unevenArea in m² or more that takes up unevenShare of the sound makes
// a wall uneven. Our own limits, no source.
const (
	unevenArea  = 1.0
	unevenShare = 0.5
)

// strong reports whether an opening takes up much somewhere from 31.5 to 250 Hz.
func strong(o model.Opening) bool {
	b, err := material.NewSurfaces(material.Typical).Opening(o)
	if err != nil {
		return false // found fault with later
	}
	for _, f := range shownBands {
		if material.RandomAbsorption(1/b.Admittance(f)) >= unevenShare {
			return true
		}
	}
	return false
}

// boxEngine returns the engine of that name for a box.
func boxEngine(name string, box model.Box) (model.Engine, error) {
	if name == "image" {
		return image.New(box, model.DefaultGrid(), image.Settings{Decay: imageDecay, MaxLength: imageLength})
	}
	return mode.New(box, model.DefaultGrid(), mode.Settings{})
}

// boxFor resolves a project's walls and returns the engine with what is doubtful about
// either.
func boxFor(name string, p *model.Project, e material.Estimate) (model.Engine, model.Box, []model.Warning, error) {
	box, warnings, err := material.Box(&p.Room, e)
	if err != nil {
		return nil, box, nil, err
	}
	engine, err := boxEngine(name, box)
	if err != nil {
		return nil, box, nil, err
	}
	return engine, box, append(warnings, engine.Warnings()...), nil
}

// roughCell is the cell in m of what only ranks or compares: the wide search, hard and
// soft walls, causes. It costs a third of a run with the usual cell. In the demo rooms the
// spread of a layout is off by 0.03 to 0.3 dB rms and 0.9 dB at the worst.
const roughCell = 0.14

// roughFall is by how much the energy is down at the end of a run that only ranks or
// compares: by 60 dB a spread is off by 0.08 dB rms, and a run a seventh shorter.
const roughFall model.Level = 60

// roomFor returns the wave solver for a project's room as it is built and typically is, with
// rough cells or the usual ones.
func roomFor(p *model.Project, rough bool, fits *material.Fits) (*wave.Room, error) {
	s := wave.Settings{Zones: sourceZones(p), Fits: fits}
	if rough {
		s.Cell, s.Fall, s.Kept = roughCell, roughFall, runtime.GOMAXPROCS(0) // a table asks for each seat once
	}
	return drawRoom(&p.Room, material.Typical, model.DefaultGrid(), s)
}

// drawRoom is wave.NewRoom with an error for people.
func drawRoom(r *model.Room, e material.Estimate, grid model.Grid, s wave.Settings) (*wave.Room, error) {
	room, err := wave.NewRoom(r, e, grid, s)
	if err != nil {
		return nil, fmt.Errorf("the wave solver cannot draw this room: %w", err)
	}
	return room, nil
}

// zoneMargin is how far beyond its zones a speaker is looked at, m: as far as a layout is
// looked at from all sides, so that the run of a seat serves for that too.
const zoneMargin = 0.40

// sourceZones returns where the woofers may be asked for: where they are now, and where a
// search may put them; the whole floor if there is nothing to search.
func sourceZones(p *model.Project) []model.Block {
	zones, err := optimize.Reach(p, optimize.Settings{})
	if err != nil {
		return nil
	}
	d := r3.Vec{X: zoneMargin, Y: zoneMargin}
	for i := range zones {
		zones[i].Min, zones[i].Max = r3.Sub(zones[i].Min, d), r3.Add(zones[i].Max, d)
	}
	if s := &p.Speakers; s.Placed {
		zones = append(zones, model.Block{Min: s.Left, Max: s.Left}, model.Block{Min: s.Right, Max: s.Right})
	}
	return zones
}

package main

import (
	"fmt"

	"github.com/urfave/cli/v2"

	"evenbass/model"
	"evenbass/model/image"
	"evenbass/model/material"
	"evenbass/model/mode"
)

func engineFlag() cli.Flag {
	return &cli.StringFlag{
		Name: "engine", Value: "auto",
		Usage: "how sound is computed: auto, mode (exact in a box with even walls), image (mirror images)",
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

// chooseEngine returns the engine of that name for a box. In a box "auto" is the
// modal field: with even walls it is exact where the image sum is not.
func chooseEngine(name string, box model.Box) (model.Engine, error) {
	grid := model.DefaultGrid()
	switch name {
	case "auto", "mode":
		return mode.New(box, grid, mode.Settings{})
	case "image":
		return image.New(box, grid, image.Settings{Decay: imageDecay, MaxLength: imageLength})
	}
	return nil, usageError{
		text: fmt.Sprintf("there is no engine %q", name),
		hint: "hint: the engines are auto, mode, image",
	}
}

// engineFor resolves a project's walls and returns the engine with what is
// doubtful about either.
func engineFor(name string, p *model.Project, e material.Estimate) (model.Engine, model.Box, []model.Warning, error) {
	box, warnings, err := material.Box(&p.Room, e)
	if err != nil {
		return nil, box, nil, err
	}
	engine, err := chooseEngine(name, box)
	if err != nil {
		return nil, box, nil, err
	}
	return engine, box, append(warnings, engine.Warnings()...), nil
}

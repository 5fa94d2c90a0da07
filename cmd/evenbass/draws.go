package main

import (
	"errors"
	"fmt"
	"math"

	"github.com/urfave/cli/v2"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/mode"
	"evenbass/optimize"
)

// usualDraws is how often what is not known is drawn unless the user says otherwise,
// and mostDraws what is still of use.
const (
	usualDraws = 100
	mostDraws  = 10000
)

func drawsFlag() cli.Flag {
	return &cli.IntFlag{Name: "draws", Value: usualDraws,
		Usage: "how often to draw walls, temperature, tape and woofer height anew for the ranges (0: not at all; plain boxes only)"}
}

// checkDraws refuses what cannot be drawn, before the search has cost anything.
func (s *study) checkDraws(c *cli.Context) error {
	n := c.Int("draws")
	switch {
	case n < 0 || n > mostDraws:
		return usageError{text: fmt.Sprintf("--draws must be 0 to %d, have %d", mostDraws, n)}
	case n > 0 && c.IsSet("draws") && s.box == nil:
		return usageError{
			text: "--draws needs a room that is taken as a plain box; this one is solved by the wave engine, for which a draw takes too long",
			hint: "hint: leave --draws out, or take the room as a plain box with --engine mode",
		}
	}
	return nil
}

// draw adds to a result how its layouts do if what is not known is drawn anew. It
// leaves out what an interruption leaves no time for, and says where it cannot be done.
func (s *study) draw(c *cli.Context, r *optimize.Result) error {
	n := c.Int("draws")
	switch {
	case n == 0 || c.Context.Err() != nil:
		return nil
	case s.box == nil:
		r.Warnings = append(r.Warnings, "how often each layout stays first was not looked at: the wave solver is too slow to draw what is not known again and again")
		return nil
	}
	walls, err := material.NewDrawn(&s.project.Room)
	if err != nil {
		return err
	}
	settings := mode.Settings{Accuracy: drawsAccuracy, Near: nearest(r)}
	standing, err := optimize.Stay(c.Context, s.project, r, optimize.Draws(n, r.Seed), func(d optimize.Draw) (model.Engine, error) {
		return mode.New(d.Box(&s.project.Room, walls.Box(d.Walls)), model.DefaultGrid(), settings)
	})
	if err != nil && c.Context.Err() != nil && errors.Is(err, c.Context.Err()) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("drawing what is not known: %w", err)
	}
	r.Standing = standing
	return nil
}

// drawsAccuracy bounds what a draw's sums over modes leave out, relative to the direct
// sound: 0.01 dB of a level near it, which is nothing beside what is drawn.
const drawsAccuracy = 1e-3

// nearest returns the least separation of a woofer and a head that a draw will ask
// for, on the axis where it is greatest, m.
func nearest(r *optimize.Result) float64 {
	const mostOff = 2*optimize.DrawnTape + optimize.DrawnWoofer
	least := 1.0
	look := func(c *optimize.Candidate) {
		heads := []r3.Vec{c.Layout.Seat}
		for _, f := range c.Seats {
			heads = append(heads, f.At)
		}
		for _, head := range heads {
			for _, woofer := range []r3.Vec{c.Layout.Left, c.Layout.Right} {
				d := r3.Sub(head, woofer)
				least = min(least, max(math.Abs(d.X), math.Abs(d.Y), math.Abs(d.Z))-mostOff)
			}
		}
	}
	for i := range r.Candidates {
		look(&r.Candidates[i])
	}
	if r.Now != nil {
		look(r.Now)
	}
	return max(least, 0.2)
}

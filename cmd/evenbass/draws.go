package main

import (
	"context"
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
		Usage: "how often to draw walls, wool, temperature, tape and woofer height anew for the ranges (0: not at all)"}
}

// checkDraws refuses what cannot be drawn, before the search has cost anything.
func checkDraws(c *cli.Context) error {
	if n := c.Int("draws"); n < 0 || n > mostDraws {
		return usageError{text: fmt.Sprintf("--draws must be 0 to %d, have %d", mostDraws, n)}
	}
	return nil
}

// draw returns how the layouts of a result do if what is not known is drawn anew; nil if
// nothing is drawn. An interruption leaves no time for it, and a search that used up its
// own none either, unless draws were asked for.
func (s *study) draw(c *cli.Context, t *terminal, r *optimize.Result) (*optimize.Standing, error) {
	n := c.Int("draws")
	if n == 0 || c.Context.Err() != nil {
		return nil, nil
	}
	if r.Stopped == optimize.OutOfTime && !c.IsSet("draws") {
		r.Warnings = append(r.Warnings, "the time was used up before the draws of what is not known, so they were left out; given --draws, they are made all the same")
		return nil, nil
	}
	standing, err := s.stay(c.Context, t, r, optimize.Draws(n, r.Seed))
	switch {
	case err == nil:
		return standing, nil
	case c.Context.Err() != nil && errors.Is(err, c.Context.Err()):
		return nil, nil
	case s.box == nil: // the layouts are what was asked for, and took long
		r.Warnings = append(r.Warnings, model.Warning(fmt.Sprintf("how often each layout stays first could not be looked at: %v", err)))
		return nil, nil
	}
	return nil, fmt.Errorf("drawing what is not known: %w", err)
}

// stay solves a box anew for each draw, and any other room for what the draws are
// interpolated between.
func (s *study) stay(ctx context.Context, t *terminal, r *optimize.Result, draws []optimize.Draw) (*optimize.Standing, error) {
	if s.box == nil {
		show, done := t.progress("drawing what is not known")
		defer done()
		sensitivity, err := s.sensitivity(ctx, r, func(done, total int) { show(float64(done) / float64(total)) })
		if err != nil {
			return nil, err
		}
		return sensitivity.Stay(ctx, draws)
	}
	walls, err := material.NewDrawn(&s.project.Room)
	if err != nil {
		return nil, err
	}
	settings := mode.Settings{Accuracy: drawsAccuracy, Near: nearest(r)}
	return optimize.Stay(ctx, s.project, r, draws, func(d optimize.Draw) (model.Engine, error) {
		return mode.New(d.Box(&s.project.Room, walls.Box(d.Walls)), model.DefaultGrid(), settings)
	})
}

// drawRuns returns how many rough runs the draws take about as long as: by each wall and the
// wool at either end and by the room itself, one for each layout, for what stands now and for
// each other seat.
func (s *study) drawRuns(draws, layouts int) int {
	if draws == 0 || s.rough == nil {
		return 0
	}
	share := 0.5 // of a rough one, as measured in two demo rooms
	ends := 1 + 2*len(model.Faces)
	if len(s.project.Room.Treatments) > 0 {
		share, ends = 1, ends+2
	}
	return int(share * float64(ends*(layouts+len(s.project.Seats))))
}

// drawsAccuracy bounds what a draw's sums over modes leave out, relative to the direct
// sound: 0.01 dB of a level near it, which is nothing beside what is drawn.
const drawsAccuracy = 1e-3

// nearest returns the least separation of a woofer and a head that a draw will ask
// for, on the axis where it is greatest, m.
func nearest(r *optimize.Result) float64 {
	const mostOff = 2*optimize.DrawnTape + optimize.DrawnWoofer
	least := 1.0
	for _, c := range r.Shown() {
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
	return max(least, 0.2)
}

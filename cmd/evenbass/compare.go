package main

import (
	"context"
	"fmt"
	"time"

	"github.com/urfave/cli/v2"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/mode"
	"evenbass/model/wave"
	"evenbass/optimize"
)

// compare solves the room as it is and with each option, with a progress bar.
func compare(c *cli.Context, t *terminal, p *model.Project, options []model.Option) (*optimize.WhatIf, error) {
	solve := modalSolver
	if !plainThroughout(p, options) {
		if err := tellRuns(t, p, len(options)+1); err != nil {
			return nil, err
		}
		solve = waveSolver(c.Context)
	}
	show, done := t.progress("comparing")
	defer done()
	return optimize.Compare(c.Context, p, options, solve, show)
}

// plainThroughout reports whether every state of the room is a plain box with even
// walls, so that the modal field is exact for all of them.
func plainThroughout(p *model.Project, options []model.Option) bool {
	if oddities(&p.Room) != "" {
		return false
	}
	for i := range options {
		q, err := p.With(&options[i])
		if err != nil || oddities(&q.Room) != "" {
			return false
		}
	}
	return true
}

// modalSolver sets up the modal field of a box.
func modalSolver(p *model.Project, grid model.Grid, _ func(float64)) (model.Engine, error) {
	box, _, err := material.Box(&p.Room, material.Typical)
	if err != nil {
		return nil, err
	}
	return mode.New(box, grid, mode.Settings{})
}

// waveSolver sets up the wave solver for the places as they stand alone.
func waveSolver(ctx context.Context) optimize.Solver {
	fits := new(material.Fits) // most walls stay the same
	return func(p *model.Project, grid model.Grid, progress func(float64)) (model.Engine, error) {
		room, err := standingRoom(p, grid, fits, progress)
		if err != nil {
			return nil, err
		}
		return room.WithContext(ctx), nil
	}
}

// standingRoom draws a room for the loudspeakers where they stand.
func standingRoom(p *model.Project, grid model.Grid, fits *material.Fits, progress func(float64)) (*wave.Room, error) {
	l, r := p.Speakers.Left, p.Speakers.Right
	return drawRoom(&p.Room, material.Typical, grid, wave.Settings{
		Zones: []model.Block{{Min: l, Max: l}, {Min: r, Max: r}}, Fits: fits, Progress: progress,
	})
}

// longRuns is the bound on some runs beyond which it is told. The bound is for the
// portable kernel on a busy machine: the demo room takes a tenth of it.
const longRuns = 2 * time.Minute

// tellRuns says at most how long so many runs will take, where that is long.
func tellRuns(t *terminal, p *model.Project, runs int) error {
	room, err := standingRoom(p, model.DefaultGrid(), nil, nil)
	if err != nil {
		return err
	}
	cost := room.Cost()
	most := time.Duration(float64(runs) * cost.Seconds * float64(time.Second))
	if most > longestWait {
		return t.tellWait(most, cost.Cells)
	}
	if most > longRuns {
		t.note("the wave solver has %d states of the room to solve, which takes %s at the very most", runs, waitText(most))
	}
	return nil
}

// placeVariants searches the best places for the room as it is and with each option,
// and says beforehand how long that will take.
func placeVariants(c *cli.Context, t *terminal, w *optimize.WhatIf) error {
	variants := []*optimize.Variant{&w.Now}
	for i := range w.Variants {
		variants = append(variants, &w.Variants[i])
	}
	if err := announceSearches(c.Context, t, w, len(variants)); err != nil {
		return err
	}
	show, done := t.progress("searching places")
	defer done()
	for i, v := range variants {
		s, settings, err := searchOf(w.Engine, v.Project)
		if err != nil {
			return err
		}
		s = s.bind(c.Context)
		if s.rough != nil {
			settings.Wide = s.rough
		}
		settings.Progress = func(step, total int, phase optimize.Phase) {
			show((float64(i) + s.share(step, total, phase)) / float64(len(variants)))
		}
		result, err := optimize.Place(c.Context, v.Project, s.engine, settings)
		if err != nil {
			return fmt.Errorf("places for %s: %w", stateText(v), err)
		}
		v.Places = &result.Candidates[0]
	}
	return nil
}

func stateText(v *optimize.Variant) string {
	if v.Name == "" {
		return "the room as it is"
	}
	return quoted(v.Name)
}

// searchOf returns a study of one state and the settings of its search.
func searchOf(engine string, p *model.Project) (*study, optimize.Settings, error) {
	settings := optimize.Settings{Seed: 1, Layouts: 1}
	s, err := newStudy(engine, p)
	if err == nil && s.rough != nil {
		settings.Wide = s.rough
	}
	return s, settings, err
}

// announceSearches says how long so many searches will take, judged by the room as it is.
func announceSearches(ctx context.Context, t *terminal, w *optimize.WhatIf, searches int) error {
	s, settings, err := searchOf(w.Engine, w.Now.Project)
	if err != nil || s.rough == nil {
		return err
	}
	effort, err := optimize.EffortOf(w.Now.Project, s.engine, settings)
	if err != nil {
		return err
	}
	need, err := s.wait(ctx, effort)
	if err != nil {
		return err
	}
	return t.tellWait(time.Duration(searches)*need, s.engine.(*wave.Room).Cost().Cells)
}

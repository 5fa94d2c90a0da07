package main

import (
	"context"
	"slices"
	"sync"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/wave"
	"evenbass/optimize"

	"gonum.org/v1/gonum/spatial/r3"
)

// comparison is the room of what is a difference between two runs: hard and soft walls, a
// wall left out, draws. Its cells are coarse, see [comparedCell]. It answers for the speakers
// of the layouts that are shown.
type comparison struct {
	mutex sync.Mutex
	room  *wave.Room
	zones []model.Block
}

// plainCell is the cell in m of what is a difference between two runs in a room without
// treatments.
const plainCell = 0.167

// comparedCell returns the cell in m of what is a difference between two runs. Against the
// usual cells, hard and soft walls change the spread of a layout in the same way within 0.06
// dB in two plain demo rooms by plainCell, and within 0.6 dB in one with an inner corner.
// Layers are another matter: with them that is 1.5 dB off at the worst, and 0.6 dB by
// roughCell.
func comparedCell(room *model.Room) float64 {
	if len(room.Treatments) > 0 {
		return roughCell
	}
	return plainCell
}

// comparing returns the room with typical walls for differences, with answers for the
// speakers of candidates, bound to the context that the study is bound to. It is kept, with
// its runs, for candidates among those of the last time that it was drawn.
func (s *study) comparing(candidates ...*optimize.Candidate) (*wave.Room, error) {
	c, zones := s.compared, speakersOf(candidates)
	c.mutex.Lock()
	defer c.mutex.Unlock()
	if !c.answers(zones) {
		var err error
		if comparedCell(&s.project.Room) == roughCell {
			c.room, err = s.rough.Over(zones) // drawn already
		} else {
			c.room, err = s.comparedRoom(material.Typical, zones)
		}
		if c.zones = zones; err != nil {
			return nil, err
		}
	}
	return c.room.WithContext(s.rough.Context()).(*wave.Room), nil
}

// answers reports whether there is a room with answers for all of some places.
func (c *comparison) answers(zones []model.Block) bool {
	return c.room != nil && !slices.ContainsFunc(zones, func(z model.Block) bool { return !slices.Contains(c.zones, z) })
}

// comparedRoom draws the room for differences by an estimate, with answers for some places.
func (s *study) comparedRoom(e material.Estimate, zones []model.Block) (*wave.Room, error) {
	settings := wave.Settings{Cell: comparedCell(&s.project.Room), Fall: roughFall, Zones: zones, Fits: s.fits}
	return drawRoom(&s.project.Room, e, model.DefaultGrid(), settings)
}

// speakersOf lists where the speakers of candidates stand.
func speakersOf(candidates []*optimize.Candidate) []model.Block {
	var zones []model.Block
	for _, c := range candidates {
		for _, at := range []r3.Vec{c.Layout.Left, c.Layout.Right} {
			zones = append(zones, model.Block{Min: at, Max: at})
		}
	}
	return zones
}

// widen looks at candidates again with walls that absorb as little and as much as
// they may. For a box the exact modal engine does it, whichever was chosen: it takes a
// moment. The wave solver takes coarse cells for the difference.
func (s *study) widen(candidates ...*optimize.Candidate) error {
	if s.rough == nil {
		hard, soft, err := s.boxEnds()
		if err != nil {
			return err
		}
		return optimize.Widen(s.project, nil, hard, soft, candidates...)
	}
	ctx := s.rough.Context()
	if ctx.Err() != nil {
		return ctx.Err() // before three rooms are drawn for nothing
	}
	zones := speakersOf(candidates)
	rooms, err := sideBySide(
		func() (*wave.Room, error) { return s.comparing(candidates...) },
		func() (*wave.Room, error) { return s.comparedRoom(material.Low, zones) },
		func() (*wave.Room, error) { return s.comparedRoom(material.High, zones) },
	)
	if err != nil {
		return err
	}
	return optimize.Widen(s.project, rooms[0], rooms[1].WithContext(ctx), rooms[2].WithContext(ctx), candidates...)
}

// boxEnds returns the exact modal engines of a box whose walls absorb as little and as
// much as they may.
func (s *study) boxEnds() (hard, soft model.Engine, err error) {
	if hard, _, _, err = boxFor("mode", s.project, material.Low); err != nil {
		return nil, nil, err
	}
	soft, _, _, err = boxFor("mode", s.project, material.High)
	return hard, soft, err
}

// sensitivity runs the room with each wall and all wool as they may be at least and at
// most, for the wave solver.
func (s *study) sensitivity(ctx context.Context, r *optimize.Result, progress func(done, total int)) (*optimize.Sensitivity, error) {
	s = s.bind(ctx)
	room, err := s.comparing(r.Shown()...)
	if err != nil {
		return nil, err
	}
	return optimize.NewSensitivity(ctx, s.project, r, s.engine, func(d optimize.Draw) (model.Engine, error) {
		if d == (optimize.Draw{}) {
			return room, nil
		}
		as, err := room.As(wave.Guess{Walls: d.Walls, Resistivity: d.Resistivity()}, nil)
		if err != nil || as.Same(room) {
			return nil, err
		}
		return as, nil
	}, progress)
}

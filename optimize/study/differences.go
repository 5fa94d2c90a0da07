package study

import (
	"context"
	"slices"
	"sync"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/wave"
	"evenbass/optimize"
	"evenbass/optimize/score"
)

// differences keeps the room of what is a difference between two runs: hard and soft walls, a
// wall left out, trials. Its cells are coarse, see [cellOfDifferences]. It answers for the
// speakers of the layouts that are shown.
type differences struct {
	mutex sync.Mutex
	room  *wave.Room
	zones []model.Block
}

// difference returns the room with typical walls for differences, with answers for the speakers
// of candidates. The room is kept, with its runs, for candidates among those of the last time that it
// was made.
func (s *Study) difference(candidates ...*score.Candidate) (*wave.Room, error) {
	d, zones := s.differences, speakersOf(candidates)
	d.mutex.Lock()
	defer d.mutex.Unlock()
	if !d.answers(zones) {
		var err error
		if cellOfDifferences(&s.Project.Room) == coarseCell {
			d.room, err = s.coarse.Over(zones) // its cells are drawn already
		} else {
			d.room, err = s.differenceRoom(material.Typical, zones)
		}
		if d.zones = zones; err != nil {
			return nil, err
		}
	}
	return d.room, nil
}

// answers reports whether there is a room with answers for all of some places.
func (d *differences) answers(zones []model.Block) bool {
	return d.room != nil && !slices.ContainsFunc(zones, func(z model.Block) bool { return !slices.Contains(d.zones, z) })
}

// differenceRoom makes the room for differences with walls by an estimate, with answers for some
// places.
func (s *Study) differenceRoom(e material.Estimate, zones []model.Block) (*wave.Room, error) {
	settings := wave.Settings{Cell: cellOfDifferences(&s.Project.Room), Fall: coarseFall, Zones: zones, Fits: s.fits}
	return newRoom(&s.Project.Room, e, Grid(s.Project), settings)
}

// setBounds evaluates candidates again with walls that absorb as little and as much as they may.
// A box is solved by the engine that gave the figures. The wave solver takes coarse cells for
// the difference.
func (s *Study) setBounds(ctx context.Context, candidates ...*score.Candidate) error {
	if s.coarse == nil {
		hard, soft, err := s.boxEnds()
		if err != nil {
			return err
		}
		return optimize.SetBounds(ctx, s.Project, nil, hard, soft, candidates...)
	}
	if ctx.Err() != nil {
		return ctx.Err() // before three rooms are made for nothing
	}
	zones := speakersOf(candidates)
	rooms, err := sideBySide(
		func() (*wave.Room, error) { return s.difference(candidates...) },
		func() (*wave.Room, error) { return s.differenceRoom(material.Low, zones) },
		func() (*wave.Room, error) { return s.differenceRoom(material.High, zones) },
	)
	if err != nil {
		return err
	}
	return optimize.SetBounds(ctx, s.Project, rooms[0], rooms[1], rooms[2], candidates...)
}

// boxEnds returns the engines of a box whose walls absorb as little and as much as they may: of
// the kind that gives the figures, so that walls which are known change nothing.
func (s *Study) boxEnds() (hard, soft model.Engine, err error) {
	if hard, _, _, err = boxEngine(s.Kind, s.Project, material.Low); err != nil {
		return nil, nil, err
	}
	soft, _, _, err = boxEngine(s.Kind, s.Project, material.High)
	return hard, soft, err
}

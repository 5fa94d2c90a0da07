package optimize

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/optimize/score"
	"evenbass/optimize/table"

	"gonum.org/v1/gonum/spatial/r3"
)

// unmoved warns of seats beside the main one that could move but do not.
func unmoved(p *model.Project) []model.Warning {
	var list []model.Warning
	for i, s := range score.OtherSeats(p) {
		if len(s.Zones) > 0 {
			list = append(list, model.SeatStays{Name: score.SeatName(s, i+1), Placed: s.Placed})
		}
	}
	return list
}

// tabulatedSeats returns the scorers of the other seats by tabulated fields: one table for
// each place of the ears at a seat that stays, and one for a seat that goes along with the main
// one. A place whose table would be too inaccurate or too large asks the engine.
func (h *placing) tabulatedSeats(ctx context.Context) ([]score.SeatScorer, error) {
	b, e, s := h.Problem, h.wide, h.settings
	list := score.SeatScorers(b.Project, e)
	domains := b.SeatDomains(s.Displacement)
	all := table.Seats{Band: e, Tables: make([]*table.Engine, len(domains))}
	s.Progress = nil // the tables are filled side by side
	err := concurrent.Each(len(domains), func(i int) error {
		t, err := s.tabulate(ctx, e, domains[i], b.Project.Goal)
		var inaccurate *table.Inaccurate
		if errors.As(err, &inaccurate) || errors.Is(err, table.ErrTooLarge) {
			return nil
		}
		if err != nil {
			return fmt.Errorf("field at another seat, at %.2f, %.2f m: %w", domains[i].Seats.X.Lo, domains[i].Seats.Y.Lo, err)
		}
		all.Tables[i] = t
		return nil
	})
	if err != nil {
		return nil, err
	}
	all.Tables = slices.DeleteFunc(all.Tables, func(t *table.Engine) bool { return t == nil })
	for i := range list {
		list[i].Scorer = score.NewScorer(all, b.Project, score.SeatOffset)
	}
	return list, nil
}

// correctedMarks is how many marks of other seats a wide search keeps corrected.
const correctedMarks = 24

// correctedAt returns the scorer of another seat, corrected by the engine at a mark of its ears,
// which takes one field a mark.
func (h *placing) correctedAt(ctx context.Context, coarse model.Engine, at r3.Vec) (*score.Scorer, error) {
	return h.corrected.Get(at, func() (*score.Scorer, error) {
		c, err := correct(ctx, coarse, h.exact, at)
		if err != nil {
			return nil, err
		}
		return score.NewScorer(c, h.Project, score.SeatOffset), nil
	})
}

// seatsAbout returns what scores the other seats in a wide search, each corrected by the engine at
// its mark in a layout.
func (h *placing) seatsAbout(ctx context.Context, l model.Layout) ([]score.SeatScorer, error) {
	list := slices.Clone(h.listeners)
	return list, concurrent.Each(len(list), func(i int) error {
		var err error
		list[i].Scorer, err = h.correctedAt(ctx, list[i].Scorer.Engine, list[i].Places(l)[0])
		return err
	})
}

// seatsAnywhere returns the same for layouts of which each is asked for its own marks.
func (h *placing) seatsAnywhere() []score.SeatScorer {
	list := slices.Clone(h.listeners)
	for i := range list {
		coarse := list[i].Scorer.Engine
		list[i].About = func(ctx context.Context, at r3.Vec) (*score.Scorer, error) { return h.correctedAt(ctx, coarse, at) }
	}
	return list
}

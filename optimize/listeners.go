package optimize

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/optimize/geometry"
	"evenbass/optimize/score"
	"evenbass/optimize/table"
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
// each place of the ears. A place whose table would be too inaccurate asks the engine.
func (h *placing) tabulatedSeats(ctx context.Context) ([]score.SeatScorer, error) {
	b, e, s := h.Problem, h.wide, h.settings
	list := score.SeatScorers(b.Project, e)
	places := score.OtherPlaces(b.Project)
	all := table.Seats{Band: e, Tables: make([]*table.Engine, len(places))}
	s.Progress = nil // the tables are filled side by side
	err := concurrent.Each(len(places), func(i int) error {
		ears := places[i]
		if slices.Index(places, ears) < i {
			return nil
		}
		d := b.Domain(s.Displacement)
		d.Seats, d.Line, d.Ears = geometry.PointArea(ears), nil, ears.Z
		t, err := s.tabulate(ctx, e, d, b.Project.Goal)
		var inaccurate *table.Inaccurate
		if errors.As(err, &inaccurate) {
			return nil
		}
		if seat := 1 + i/len(list[0].Places); err != nil {
			return fmt.Errorf("field at the seat %s: %w", score.SeatName(b.Project.Seats[seat], seat), err)
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

// correctedListeners returns scorers by tabulated fields, each corrected by the accurate
// engine at its seat's mark. It takes one field a seat.
func correctedListeners(ctx context.Context, p *model.Project, coarse []score.SeatScorer, accurate model.Engine) ([]score.SeatScorer, error) {
	list := slices.Clone(coarse)
	return list, concurrent.Each(len(list), func(i int) error {
		c, err := correct(ctx, list[i].Scorer.Engine, accurate, list[i].Places[0])
		if err != nil {
			return err
		}
		list[i].Scorer = score.NewScorer(c, p, score.SeatOffset)
		return nil
	})
}

package optimize

import (
	"context"
	"fmt"
	"slices"

	"evenbass/model"
)

// unmoved warns of seats beside the main one that could move but do not.
func unmoved(p *model.Project) []model.Warning {
	var list []model.Warning
	for i, s := range others(p) {
		where := "where it is"
		switch {
		case len(s.Zones) == 0:
			continue
		case !s.Placed:
			where = "in the middle of its first zone"
		}
		list = append(list, model.Warning(fmt.Sprintf(
			"%s may move, but the search moves only the first seat: it is judged %s; to try it elsewhere, change its \"at\"",
			seatName(s, i+1), where)))
	}
	return list
}

// tabulatedSeats returns the scorers of the other seats by tabulated fields: one table for
// each place of the ears.
func (b *problem) tabulatedSeats(ctx context.Context, e *banded, s Settings) ([]seatScorer, []model.Warning, error) {
	list := seatScorers(b.project, e)
	places := otherPlaces(b.project)
	all := seatTables{banded: e, tables: make([]*table, len(places))}
	warnings := make([][]model.Warning, len(places))
	err := parallel(len(places), func(i int) error {
		ears := places[i]
		if slices.Index(places, ears) < i {
			return nil
		}
		d := b.domain(s.Displacement)
		d.seats, d.line, d.ears = pointArea(ears), nil, ears.Z
		var err error
		all.tables[i], warnings[i], err = s.tabulate(ctx, e, d, b.project.Goal, func(int, int) {})
		if seat := 1 + i/len(list[0].places); err != nil {
			return fmt.Errorf("field at the seat %s: %w", seatName(b.project.Seats[seat], seat), err)
		}
		return nil
	})
	if err != nil {
		return nil, nil, err
	}
	all.tables = slices.DeleteFunc(all.tables, func(t *table) bool { return t == nil })
	for i := range list {
		list[i].scorer = newScorer(all, b.project.Goal, HeadBox, b.project.Room.Size)
	}
	return list, slices.Compact(slices.Concat(warnings...)), nil
}

// correctedListeners returns scorers by tabulated fields, each corrected by the accurate
// engine at its seat's mark. It takes one field a seat.
func (b *problem) correctedListeners(coarse []seatScorer, accurate model.Engine) ([]seatScorer, error) {
	list := slices.Clone(coarse)
	return list, parallel(len(list), func(i int) error {
		c, err := correct(list[i].scorer.engine, accurate, list[i].places[0])
		if err != nil {
			return err
		}
		list[i].scorer = newScorer(c, b.project.Goal, HeadBox, b.project.Room.Size)
		return nil
	})
}

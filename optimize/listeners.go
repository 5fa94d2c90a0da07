package optimize

import (
	"context"
	"fmt"
	"slices"

	"evenbass/model"
)

// unmoved says of seats beside the main one that they might move but do not.
func unmoved(p *model.Project) []model.Warning {
	var list []model.Warning
	for i, s := range others(p) {
		where := "where it stands"
		switch {
		case len(s.Zones) == 0:
			continue
		case !s.Placed:
			where = "in the middle of its first zone"
		}
		list = append(list, model.Warning(fmt.Sprintf(
			"%s has places where it may move, but the search moves the first seat alone: it is judged %s; to try it elsewhere, give another place for it in \"at\"",
			seatName(s, i+1), where)))
	}
	return list
}

// tabulatedSeats is listeners by tabulated fields: a table for each place of a head.
func (b *problem) tabulatedSeats(ctx context.Context, e *banded, s Settings) ([]seatScorer, []model.Warning, error) {
	list := seatScorers(b.project, e)
	places := otherPlaces(b.project)
	all := seatTables{e, make([]*table, len(places))}
	doubts := make([][]model.Warning, len(places))
	err := parallel(len(places), func(i int) error {
		head := places[i]
		if slices.Index(places, head) < i {
			return nil
		}
		d := b.domain(s.Displacement)
		d.seats, d.line, d.ears = area{span{head.X, head.X}, span{head.Y, head.Y}}, nil, head.Z
		var err error
		all.tables[i], doubts[i], err = s.tabulate(ctx, e, d, b.project.Goal, func(int, int) {})
		if seat := 1 + i/len(list[0].places); err != nil {
			return fmt.Errorf("listening at %s: %w", seatName(b.project.Seats[seat], seat), err)
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
	return list, slices.Compact(slices.Concat(doubts...)), nil
}

// correctedListeners returns listeners by tabulated fields that are set right by an engine about the
// place where each seat's head is marked. It takes one field a seat.
func (b *problem) correctedListeners(cheap []seatScorer, dear model.Engine) ([]seatScorer, error) {
	list := slices.Clone(cheap)
	return list, parallel(len(list), func(i int) error {
		c, err := correct(list[i].scorer.engine, dear, list[i].places[0])
		if err != nil {
			return err
		}
		list[i].scorer = newScorer(c, b.project.Goal, HeadBox, b.project.Room.Size)
		return nil
	})
}

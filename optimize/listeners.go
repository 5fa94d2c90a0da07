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
	"evenbass/optimize/search"
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
	domains := seatDomains(b, s.Displacement)
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

// seatDomains returns the places of the ears at the other seats, one domain a table.
func seatDomains(b *search.Problem, shift float64) []table.Domain {
	p := b.Project
	size := p.Room.Size
	room := geometry.Area{X: geometry.Span{Lo: 0, Hi: size.X}, Y: geometry.Span{Lo: 0, Hi: size.Y}}
	var list []table.Domain
	var seen []r3.Vec
	for i, s := range score.OtherSeats(p) {
		if p.TiedSeat(i + 1) {
			d := b.Domain(shift, score.LeanDistance)
			by := r3.Sub(s.At, p.Seats[0].At)
			moved := geometry.HullOf(b.Seats)
			moved.X, moved.Y = moved.X.Shift(by.X), moved.Y.Shift(by.Y)
			d.Seats = geometry.Area{X: moved.X.Grow(score.SeatOffset), Y: moved.Y.Grow(score.SeatOffset)}.And(room)
			d.Line, d.Ears = nil, s.At.Z
			if d.Seats.Empty() {
				continue // nobody can sit there in any layout
			}
			if b.SeatOnLine() && len(b.Seats) == 1 {
				d.Line = table.Lines(room.Y.Clamp(moved.Y.Lo), score.SeatOffset, room.Y)
			}
			list = append(list, d)
			continue
		}
		for _, ears := range score.AroundSeat(score.SeatPlace(p, i+1, model.Layout{}), size) {
			if slices.Contains(seen, ears) {
				continue
			}
			seen = append(seen, ears)
			d := b.Domain(shift, score.LeanDistance)
			d.Seats, d.Line, d.Ears = geometry.PointArea(ears), nil, ears.Z
			list = append(list, d)
		}
	}
	return list
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

package study

import (
	"context"
	"errors"
	"fmt"
	"math"

	"evenbass/model"
	"evenbass/optimize"
	"evenbass/optimize/score"
	"evenbass/optimize/search"
)

// Widened is what a search gives where the rules that the owner did not write are wider. Only
// rules that hold the best layout back are tried.
type Widened struct {
	Listening model.Listening  // with the wider rules
	Binding   model.Unwritten  // the default rules that hold the best layout back; From does not count
	Best      *score.Candidate // within the wider rules; its ranges are not known
}

// How wide default rules are tried, and how near to a limit of one a layout counts as held back by
// it. Our own choice, no source: beyond these a pair gives no stereo image, or the listener sits in
// the near field of the drivers.
var wider = model.Listening{
	Distance: model.Range{Min: 0.8, Max: 3}, Angle: model.Range{Min: 40 * math.Pi / 180, Max: 90 * math.Pi / 180}, BackDistance: 0.3,
}

const (
	lengthAtLimit = 0.03              // m
	angleAtLimit  = 2 * math.Pi / 180 // rad
)

// binding returns the default rules that hold a layout back.
func binding(p *model.Project, l model.Layout) model.Unwritten {
	at := func(v float64, r model.Range, within float64) bool {
		return r.Given() && (v-r.Min < within || r.Max-v < within)
	}
	left, right := model.Plan(l.Left, l.Seat), model.Plan(l.Right, l.Seat)
	u := p.Unwritten
	return model.Unwritten{
		Distance: u.Distance && at((left+right)/2, p.Listening.Distance, lengthAtLimit),
		Angle:    u.Angle && at(l.Angle(), p.Listening.Angle, angleAtLimit),
		Back:     u.Back && p.Room.Plain() && p.Room.Size.X-p.Listening.BackDistance-l.Seat.X < lengthAtLimit,
	}
}

// widen searches again with wider rules where default rules hold the best layout back. It returns
// nil where none does, or after a search that was stopped.
func (s *Study) widen(ctx context.Context, r *optimize.Result, settings PlaceSettings, tables *optimize.Tables) (*Widened, error) {
	w := &Widened{Listening: s.Project.Listening, Binding: binding(s.Project, r.Candidates[0].Layout)}
	if w.Binding == (model.Unwritten{}) || settings.Sketch || r.Stopped == search.Cancelled || r.Stopped == search.OutOfTime {
		return nil, nil
	}
	u := s.Project.Unwritten
	if u.Distance {
		w.Listening.Distance = wider.Distance
	}
	if u.Angle {
		w.Listening.Angle = wider.Angle
	}
	if w.Binding.Back {
		w.Listening.BackDistance = wider.BackDistance
	}
	q := *s.Project
	q.Listening = w.Listening
	other, err := s.within(&q)
	if err != nil {
		return nil, widenError(ctx, err)
	}
	settings.Layouts, settings.Sketch = 1, true
	sketch := other.search(settings)
	sketch.Tables = tables
	sketch.Progress = other.part("trying wider default rules", settings.Progress, 0, 1)
	if w.Best, err = other.bestWithin(ctx, sketch); err != nil {
		return nil, widenError(ctx, err)
	}
	return w, nil
}

// widenError is nil once the context has ended, or where nothing fits: the result is complete without it.
func widenError(ctx context.Context, err error) error {
	var none *search.Infeasible
	if ctx.Err() != nil || errors.As(err, &none) {
		return nil
	}
	return fmt.Errorf("trying wider default rules: %w", err)
}

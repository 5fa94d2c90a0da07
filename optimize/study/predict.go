package study

import (
	"context"
	"fmt"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/model/response/spectraldecay"
	"evenbass/model/wave"
	"evenbass/optimize"
	"evenbass/optimize/cause"
	"evenbass/optimize/engines"
	"evenbass/optimize/score"
)

// Prediction is what is predicted for one layout.
type Prediction struct {
	Candidate score.Candidate
	Faults    []cause.Dip // worst first
}

// Predict computes the figures of a layout with their bounds, and the causes of its dips. If the
// context ends after the figures, it returns these alone with the context's error.
func (s *Study) Predict(ctx context.Context, l model.Layout, progress model.Progress) (*Prediction, error) {
	progress.Report("predicting", 0)
	c, err := score.Evaluate(ctx, s.Project, s.Engine, l, 0)
	if err != nil {
		return nil, err
	}
	out := &Prediction{Candidate: c}
	const rest = "trying other walls, looking for causes"
	progress.Report(rest, 0)
	if err := s.setCards(ctx, &out.Candidate); err != nil {
		return out, err
	}
	progress.Report(rest, 0.5)
	out.Faults, err = s.explain(ctx, &out.Candidate)
	return out, err
}

// Transfers are what arrives from each speaker of a layout, at frequencies that suit a table:
// a spline through its levels gives the response in between, see [response.Rows].
type Transfers struct {
	Grid model.Grid
	Pair response.Pair // as the speakers play it, with their roll-off
}

// Transfers computes the transfers of a layout for a table. The wave solver takes one
// more run, to its end.
func (s *Study) Transfers(ctx context.Context, l model.Layout) (*Transfers, error) {
	grid := response.RowGrid(s.Project.Goal, engines.SlowestDecay(ctx, s.Project))
	e, err := s.over(grid, l)
	if err != nil {
		return nil, err
	}
	field, err := e.Field(ctx, l.Seat)
	if err != nil {
		return nil, err
	}
	pair := response.Pair{Left: field.Transfer(nil, l.Left), Right: field.Transfer(nil, l.Right)}
	var out Transfers
	out.Grid, out.Pair = response.Rows(grid, pair.Through(s.Project.Speakers.RollOff(), grid))
	return &out, nil
}

// over returns the study's engine over other frequencies, for one layout.
func (s *Study) over(grid model.Grid, l model.Layout) (model.Engine, error) {
	if s.Kind != model.WaveEngine {
		return engines.OverBox(s.Kind, *s.Box, grid)
	}
	room, err := s.Engine.(*wave.Room).Unsmoothed(grid, []model.Block{engines.PlaceZone(l.Left), engines.PlaceZone(l.Right)})
	if err != nil {
		return nil, fmt.Errorf("the table's frequencies: %w", err)
	}
	return room, nil
}

// Fading is how long each tone stays at the main seat with both speakers together.
type Fading struct {
	Now  *spectraldecay.Signal // nil without present places
	Best *spectraldecay.Signal // of the first layout; nil if its decays were not read
}

// fading reads how long tones stay off the transfers that the decays were read off.
func (s *Study) fading(r *optimize.Result) (f Fading, err error) {
	if r.Now != nil {
		if f.Now, err = fadingOf(s.Project, r.Now); err != nil {
			return f, err
		}
	}
	f.Best, err = fadingOf(s.Project, &r.Candidates[0])
	return f, err
}

func fadingOf(p *model.Project, c *score.Candidate) (*spectraldecay.Signal, error) {
	if len(c.OverDecays.Left) == 0 {
		return nil, nil
	}
	grid := response.DecayGrid()
	return spectraldecay.Transfer(grid, c.OverDecays.Through(p.Speakers.RollOff(), grid).Of(response.BothTogether), p.Room.Air())
}

package study

import (
	"context"

	"evenbass/model"
	"evenbass/optimize/cause"
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

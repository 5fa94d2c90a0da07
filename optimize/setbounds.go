package optimize

import (
	"context"
	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/optimize/score"
)

// SetBounds computes the bounds of candidates with two engines for the same room: one with
// its hardest, one with its softest likely walls. If typical is not nil, it is an engine of
// the same kind as those two, coarser than that of the candidates. The bounds are then the
// candidates' spreads plus the change from typical to either.
func SetBounds(ctx context.Context, p *model.Project, typical, hard, soft model.Engine, candidates ...*score.Candidate) error {
	found, err := AtEnds(typical, hard, soft, len(candidates), func(e model.Engine, i int) (model.Level, error) {
		b, err := score.NewBand(e, p.Goal)
		if err != nil {
			return 0, err
		}
		return score.NewScorer(b, p.Goal, 0, p.Room.Size).Plain(ctx, candidates[i].Layout)
	})
	if err != nil {
		return err
	}
	for i, c := range candidates {
		c.Walls = found.Bounds(i, c.Judgement.Spread(), func(v model.Level) model.Level { return v })
	}
	return nil
}

// Ends holds what is read n times in rooms with hard, with soft and with typical walls. The
// last is empty where the figures shown come from the same engines.
type Ends[T any] struct{ hard, soft, typical []T }

// AtEnds reads n things by the engines of [SetBounds], of which typical may be nil.
func AtEnds[T any](typical, hard, soft model.Engine, n int, read func(e model.Engine, i int) (T, error)) (Ends[T], error) {
	engines := []model.Engine{hard, soft}
	if typical != nil {
		engines = append(engines, typical)
	}
	found := make([]T, len(engines)*n)
	err := concurrent.Each(len(found), func(i int) (err error) {
		found[i], err = read(engines[i/n], i%n)
		return err
	})
	return Ends[T]{found[:n], found[n : 2*n], found[2*n:]}, err
}

// Bounds returns the bounds of a figure shown, by a level of the ith thing read.
func (e Ends[T]) Bounds(i int, shown model.Level, level func(T) model.Level) score.Bounds {
	var off model.Level
	if len(e.typical) > 0 {
		off = shown - level(e.typical[i])
	}
	return score.Bounds{Hard: level(e.hard[i]) + off, Soft: level(e.soft[i]) + off}
}

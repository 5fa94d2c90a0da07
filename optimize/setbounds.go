package optimize

import "evenbass/model"

// SetBounds computes the bounds of candidates with two engines for the same room: one with
// its hardest, one with its softest likely walls. If typical is not nil, it is an engine of
// the same kind as those two, coarser than that of the candidates. The bounds are then the
// candidates' spreads plus the change from typical to either.
func Widen(p *model.Project, typical, hard, soft model.Engine, candidates ...*Candidate) error {
	found, err := atEnds(typical, hard, soft, len(candidates), func(e model.Engine, i int) (model.Level, error) {
		b, err := newBanded(e, p.Goal)
		if err != nil {
			return 0, err
		}
		return newScorer(b, p.Goal, 0, p.Room.Size).plain(candidates[i].Layout)
	})
	if err != nil {
		return err
	}
	for i, c := range candidates {
		c.Walls = found.bounds(i, c.Judgement.Spread(), func(v model.Level) model.Level { return v })
	}
	return nil
}

// ends holds what is read n times in rooms with hard, with soft and with typical walls. The
// last is empty where the figures shown come from the same engines.
type ends[T any] struct{ hard, soft, typical []T }

// atEnds reads n things by the engines of [SetBounds], of which typical may be nil.
func atEnds[T any](typical, hard, soft model.Engine, n int, read func(e model.Engine, i int) (T, error)) (ends[T], error) {
	engines := []model.Engine{hard, soft}
	if typical != nil {
		engines = append(engines, typical)
	}
	found := make([]T, len(engines)*n)
	err := parallel(len(found), func(i int) (err error) {
		found[i], err = read(engines[i/n], i%n)
		return err
	})
	return ends[T]{found[:n], found[n : 2*n], found[2*n:]}, err
}

// bounds returns the bounds of a figure shown, by a level of the ith thing read.
func (e ends[T]) bounds(i int, shown model.Level, level func(T) model.Level) Bounds {
	var off model.Level
	if len(e.typical) > 0 {
		off = shown - level(e.typical[i])
	}
	return Bounds{Hard: level(e.hard[i]) + off, Soft: level(e.soft[i]) + off}
}

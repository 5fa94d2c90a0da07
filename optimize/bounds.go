package optimize

import "evenbass/model"

// Bounds is a layout's plain spread, dB, with walls that absorb as little as they
// may and as much as they may. The zero value is "not looked at".
type Bounds struct{ Hard, Soft model.Level }

// Given reports whether the bounds have been looked at.
func (b Bounds) Given() bool { return b != Bounds{} }

// Range returns the lowest and the highest plain spread of a candidate over what
// is not known of the walls. More damping does not always mean less spread, so
// the spread with typical walls counts too.
func (c *Candidate) Range() (low, high model.Level) {
	s := c.Judgement.Spread()
	if !c.Walls.Given() {
		return s, s
	}
	return min(s, c.Walls.Hard, c.Walls.Soft), max(s, c.Walls.Hard, c.Walls.Soft)
}

// Widen computes the bounds of candidates with two engines for the same room: one
// with its hardest, one with its softest likely walls. If typical is not nil, it is an
// engine of the same kind as those two, coarser than that of the candidates, and the
// bounds are the candidates' spreads and what changes from it to either.
func Widen(p *model.Project, typical, hard, soft model.Engine, candidates ...*Candidate) error {
	engines := []model.Engine{hard, soft}
	if typical != nil {
		engines = append(engines, typical)
	}
	spreads := make([]model.Level, len(engines)*len(candidates))
	err := parallel(len(spreads), func(i int) error {
		b, err := newBanded(engines[i/len(candidates)], p.Goal)
		if err != nil {
			return err
		}
		spreads[i], err = newScorer(b, p.Goal, 0, p.Room.Size).plain(candidates[i%len(candidates)].Layout)
		return err
	})
	if err != nil {
		return err
	}
	for i, c := range candidates {
		var off model.Level
		if typical != nil {
			off = c.Judgement.Spread() - spreads[2*len(candidates)+i]
		}
		c.Walls = Bounds{Hard: spreads[i] + off, Soft: spreads[len(candidates)+i] + off}
	}
	return nil
}

// Firm reports whether one candidate beats another with hard, typical and soft
// walls alike, so that not knowing the walls does not change the choice.
func Firm(better, worse *Candidate) bool {
	return better.Walls.Given() && worse.Walls.Given() &&
		better.Walls.Hard < worse.Walls.Hard && better.Walls.Soft < worse.Walls.Soft &&
		better.Judgement.Spread() < worse.Judgement.Spread()
}

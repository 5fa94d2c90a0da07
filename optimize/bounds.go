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
// with its hardest, one with its softest likely walls.
func Widen(p *model.Project, hard, soft model.Engine, candidates ...*Candidate) error {
	for _, end := range []struct {
		engine model.Engine
		to     func(*Candidate) *model.Level
	}{
		{hard, func(c *Candidate) *model.Level { return &c.Walls.Hard }},
		{soft, func(c *Candidate) *model.Level { return &c.Walls.Soft }},
	} {
		b, err := newBanded(end.engine, p.Goal)
		if err != nil {
			return err
		}
		s := newScorer(b, p.Goal, 0, p.Room.Size)
		for _, c := range candidates {
			if *end.to(c), err = s.plain(c.Layout); err != nil {
				return err
			}
		}
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

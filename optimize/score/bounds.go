package score

import "evenbass/model"

// Bounds holds a layout's plain spread, dB, with walls that absorb as little and as much as
// is likely. The zero value means "not computed".
type Bounds struct{ Hard, Soft model.Level }

// Given reports whether the bounds have been computed.
func (b Bounds) Given() bool { return b != Bounds{} }

// Range returns the lowest and the highest plain spread of a candidate over the likely
// walls. More damping does not always mean less spread, so the spread with typical walls
// counts too.
func (c *Candidate) Range() (low, high model.Level) {
	s := c.Judgement.Spread()
	if !c.Walls.Given() {
		return s, s
	}
	return min(s, c.Walls.Hard, c.Walls.Soft), max(s, c.Walls.Hard, c.Walls.Soft)
}

// BetterThroughout reports whether one candidate beats another with hard, typical and soft
// walls alike, so that the unknown walls do not change the choice.
func BetterThroughout(better, worse *Candidate) bool {
	return better.Walls.Given() && worse.Walls.Given() &&
		better.Walls.Hard < worse.Walls.Hard && better.Walls.Soft < worse.Walls.Soft &&
		better.Judgement.Spread() < worse.Judgement.Spread()
}

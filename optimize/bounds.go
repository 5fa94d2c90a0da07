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

// Firm reports whether one candidate beats another with hard, typical and soft
// walls alike, so that not knowing the walls does not change the choice.
func Firm(better, worse *Candidate) bool {
	return better.Walls.Given() && worse.Walls.Given() &&
		better.Walls.Hard < worse.Walls.Hard && better.Walls.Soft < worse.Walls.Soft &&
		better.Judgement.Spread() < worse.Judgement.Spread()
}

package card

import (
	"fmt"
	"math"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/score"
	"evenbass/optimize/uncertainty"
	"evenbass/report/unit"
)

// State is what is compared: a room with places for speakers and seats.
type State struct {
	Name string // "now", "layout 1", "A"
	Card response.Ranged

	// What else is known of a whole layout; zero values are not.
	Seats     []score.SeatFigures // the main seat first; nil if there is one only
	Between   model.Level         // how much the seats differ
	Tolerance score.Tolerance

	// In how many trials the layout has less spread than now, and than all others listed.
	Trials, Better, First int
}

// Of returns the state of a layout; the trials are those of the outcome, which may be nil.
func Of(name string, c *score.Candidate, trials int, o *uncertainty.Outcome) State {
	s := State{Name: name, Card: c.Card, Seats: c.Seats, Between: c.Between, Tolerance: c.Tolerance}
	if o != nil {
		s.Trials, s.Better, s.First = trials, o.Better, o.First
	}
	return s
}

// off returns how far the most sensitive mark may be off, m.
func (s *State) off() float64 { return min(s.Tolerance.Left, s.Tolerance.Right, s.Tolerance.Seat) }

// others returns the spread at the seats beside the main one, ears at their marks, by their weights, and
// whether there are any that count.
func (s *State) others() (model.Level, bool) {
	var sum, share float64
	for i, f := range s.Seats {
		if i > 0 {
			sum += f.Weight * float64(f.Spread)
			share += f.Weight
		}
	}
	return model.Level(sum / share), share > 0
}

// standing is what decides between two states.
func (s *State) criteria() *score.Criteria { return &score.Criteria{Card: s.Card, Seats: s.Seats} }

// overSeats says what becomes of the spread at all seats by their weights; "" where only one counts.
func overSeats(before, after *State) string {
	was, several := before.criteria().Weighted()
	is, still := after.criteria().Weighted()
	if !several || !still {
		return ""
	}
	return fmt.Sprintf("from %s to %s", unit.DecibelsOnly(was), unit.Spread(is))
}

// tapeError is the least change of a tolerance that counts, m: what a tape measure is off.
const tapeError = uncertainty.TapeError

// markOf returns the mark of a figure that got worse by some amount.
func markOf(worse, resolution float64) response.Mark {
	switch {
	case math.IsNaN(worse) || math.Abs(worse) <= resolution:
		return response.NoDifference
	case worse > 0:
		return response.Worse
	}
	return response.Better
}

// WallsMatter reports whether hard or soft walls change a candidate's spread by as much
// as is shown. Walls given by impedance are known.
func WallsMatter(c *score.Candidate) bool {
	low, high := c.Range()
	return high-low >= 0.05
}

// WallRange writes the range of a spread from hard to soft walls, with a space or a line
// break after "to".
func WallRange(c *score.Candidate, after string) string {
	low, high := c.Range()
	return fmt.Sprintf("±%s to%s%s", unit.Decimal(float64(low), 1), after, unit.Spread(high))
}

package card

import (
	"fmt"

	"evenbass/optimize/score"
	"evenbass/report/unit"
)

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

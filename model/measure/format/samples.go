package format

import (
	"math"
	"strings"

	"evenbass/model/measure"
)

// longestImpulse is the longest time column in s: a first column that ends later is taken as
// frequency, unless its heading says time.
const longestImpulse = 15

// timed reports whether the first column is time and gives its unit in s; 0 if it is not.
func (c *columns) timeUnit() float64 {
	if len(c.rows[0]) != 2 || len(c.rows) < 3 {
		return 0
	}
	if len(c.headings) >= 2 {
		switch first := c.headings[0]; {
		case strings.Contains(first, "freq") || strings.Contains(first, "hz"):
			return 0
		case strings.Contains(first, "ms") || strings.Contains(first, "milli"):
			return 1e-3
		case strings.Contains(first, "time") || first == "s" || strings.Contains(first, "sec"):
			return 1
		}
	}
	if last := c.rows[len(c.rows)-1][0]; last > longestImpulse || c.monotonicTime() == 0 {
		return 0
	}
	return 1
}

// monotonicTime returns the step of the first column if it is even to 1 %, else 0.
func (c *columns) monotonicTime() float64 {
	n := len(c.rows)
	step := (c.rows[n-1][0] - c.rows[0][0]) / float64(n-1)
	for i, v := range c.rows {
		if math.Abs(v[0]-c.rows[0][0]-float64(i)*step) > 0.01*step {
			return 0
		}
	}
	return step
}

// impulse turns columns into an impulse response: samples alone, or time and samples.
func (c *columns) impulse(o Options) (*measure.Impulse, error) {
	im := &measure.Impulse{Rate: o.Rate, Timed: o.Timed}
	last := len(c.rows[0]) - 1
	if unit := c.timeUnit(); unit > 0 {
		step := c.monotonicTime() * unit
		if !(step > 0) {
			return nil, fault(c.name, c.lines[0], "the times do not rise in even steps")
		}
		im.Rate, im.Zero = 1/step, -c.rows[0][0]*unit/step
		if near := math.Round(im.Rate); math.Abs(im.Rate-near) < 1e-3*near && near > 100 {
			im.Rate = near // times are written with few digits
		}
	} else if last > 0 {
		return nil, fault(c.name, c.lines[0], "%d columns; samples stand in one, or in two with their times before them", last+1)
	}
	switch {
	case im.Rate == 0:
		return nil, fault(c.name, 0, "holds samples but not their rate; say at how many Hz they were taken")
	case im.Rate < lowestRate || im.Rate > highestRate:
		return nil, fault(c.name, 0, "%g samples a second; %g to %g are read", im.Rate, lowestRate, highestRate)
	}
	for _, v := range c.rows {
		im.Samples = append(im.Samples, v[last])
	}
	return im, nil
}

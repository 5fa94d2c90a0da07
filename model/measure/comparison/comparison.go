package comparison

import (
	"errors"
	"math"

	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/model/measure/analysis"
	"evenbass/model/response"
)

// Comparison is two states of a seat, one against the other.
type Comparison struct {
	Before, After *analysis.Analysis // with the common goal
	Goal          model.Goal         // common to both
	Objections    []Objection        // what makes it unfair, the worst first

	Offset     model.Level   // mean level after less that before, in the goal's band
	Aligned    bool          // the offset is taken off the difference
	Grid       model.Grid    // of the difference
	Difference []model.Level // smoothed level after less that before, dB
	Typical    model.Level   // mean of its magnitude over lg f within the band
	Most       Extreme       // where it is greatest

	Resolution response.Resolution // the smallest changes that count
	Figures    response.Comparison
}

// Extreme is the largest difference.
type Extreme struct {
	Frequency float64 // Hz
	Level     model.Level
}

// Repeat is by how much the figures of two measurements differ where nothing changed but that the
// microphone was put back to its mark: spread 1 dB, deviation 0.5 dB, share of the band 0.05,
// deepest dip 2 dB, lowest octave 1 dB, falls 0.03 s. Common practice, no source: repeated sweeps
// agree to 0.5 dB, and a microphone that is 5 cm off its mark changes levels by 0.7 dB on average.
var Repeat = response.Resolution{1, 0.5, 0.05, 2, 1, 0.03, 0.03}

// New compares two analyses. Figures count as changed beyond the resolution, beyond [Repeat] and beyond what a
// listener notices ([response.Noticeable]), whichever is coarsest. It fails if their bands have less than an
// octave in common.
func New(before, after *analysis.Analysis, resolution response.Resolution) (*Comparison, error) {
	goal := before.Goal
	goal.From, goal.To = max(goal.From, after.Goal.From), min(goal.To, after.Goal.To)
	if goal.To < 2*goal.From {
		return nil, errors.New("the two have less than an octave in common")
	}
	c := &Comparison{
		Before: before.Recut(goal), After: after.Recut(goal), Goal: goal,
	}
	c.Resolution = resolution.Widest(Repeat).Widest(response.Noticeable(c.Before.Card, c.After.Card))
	c.Offset = c.After.Figures.Mean - c.Before.Figures.Mean
	c.Aligned = !sameGain(c.Before.Measurement, c.After.Measurement)
	c.subtract()
	c.Figures = c.After.Card.Against(c.Before.Card, c.Resolution)
	c.Objections = c.object()
	return c, nil
}

// sameGain reports whether levels of two states compare as they are: two predictions, or two
// measurements whose gain is known to have stood still.
func sameGain(a, b *measure.Measurement) bool {
	if a == nil || b == nil {
		return a == b
	}
	return (a.Doubts()|b.Doubts())&measure.GainUnknown == 0
}

// subtract fills in the difference over the band.
func (c *Comparison) subtract() {
	taken := model.Level(0)
	if c.Aligned {
		taken = c.Offset
	}
	c.Grid = model.NewGrid(c.Goal.From, c.Goal.To, 96, 0)
	var sum float64
	for _, f := range c.Grid {
		d := c.After.At(c.After.Curve, f) - c.Before.At(c.Before.Curve, f) - taken
		c.Difference = append(c.Difference, d)
		sum += math.Abs(float64(d))
		if math.Abs(float64(d)) > math.Abs(float64(c.Most.Level)) {
			c.Most = Extreme{f, d}
		}
	}
	c.Typical = model.Level(sum / float64(len(c.Grid)))
}

// Counts returns how many figures are better and how many are worse.
func (c *Comparison) Counts() (better, worse int) {
	for _, f := range c.Figures {
		switch {
		case f.Known && f.Mark == response.Better:
			better++
		case f.Known && f.Mark == response.Worse:
			worse++
		}
	}
	return better, worse
}

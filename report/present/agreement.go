package present

import (
	"fmt"
	"math"

	"evenbass/model"
	"evenbass/model/measure/comparison"
	"evenbass/model/response"
	"evenbass/report/card"
	"evenbass/report/unit"
)

// Agreement is how well predictions meet measurements at a seat, in level and in decay.
type Agreement struct {
	Typical model.Level     // mean difference of the curves over all comparisons, dB
	Decay   response.Change // of the mean fall where it is farthest off, predicted before measured

	Invented bool // nobody made any of the measurements
}

// NewAgreement sums up comparisons of one prediction each with one measurement; it panics without any.
func NewAgreement(list ...*comparison.Comparison) Agreement {
	a := Agreement{Invented: true}
	for _, c := range list {
		a.Typical += c.Typical / model.Level(len(list))
		d, m := c.Figures[response.MeanFallFigure], c.After.Measurement
		if c.Before.Measurement != nil {
			d.Before, d.After, m = d.After, d.Before, c.Before.Measurement
		}
		a.Invented = a.Invented && m != nil && m.Invented()
		if d.Known && (!a.Decay.Known || off(d) > off(a.Decay)) {
			a.Decay = d
		}
	}
	return a
}

// off returns by how much a measured value is off a predicted one, as a ratio in lg.
func off(c response.Change) float64 { return math.Abs(math.Log(c.After / c.Before)) }

// closeEnough is the mean difference between prediction and measurement below which a model knows a
// room's levels, dB. Common practice, no source.
const closeEnough = 3

// Close reports whether the prediction may be built on: its levels are close, and its decay differs by no
// more than that of repeated measurements, or is not known.
func (a Agreement) Close() bool { return a.Typical <= closeEnough && !a.decayDiffers() }

func (a Agreement) decayDiffers() bool { return a.Decay.Mark != response.NoDifference }

// Sentence says how well the prediction fits the room. The words about the curves follow "on average": ", by
// 9.1 dB at most"; they may be empty.
func (a Agreement) Sentence(curves string) string {
	words := fmt.Sprintf("the curves differ by %s on average%s", unit.Difference(a.Typical), curves)
	if a.Decay.Known {
		words += fmt.Sprintf("; the mean 20 dB decay is %s predicted and %s %s", card.Milliseconds(a.Decay.Before), card.Milliseconds(a.Decay.After), Origin(a.Invented))
	}
	return fmt.Sprintf("The prediction %s: %s.", a.verdict(), words)
}

func (a Agreement) verdict() string {
	how, room := "roughly", "this room"
	if a.Invented {
		room = "the invented room"
	}
	if a.Typical <= closeEnough {
		how = "well"
	}
	switch {
	case a.Typical > 2*closeEnough:
		return "does not fit " + room + " yet"
	case a.decayDiffers():
		return "fits the levels in " + room + " " + how + ", but not the decay"
	case !a.Decay.Known:
		return "fits the levels in " + room + " " + how
	}
	return "fits " + room + " " + how
}

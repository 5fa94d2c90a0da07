package comparison

import (
	"math"

	"evenbass/model"
	"evenbass/model/response"
)

// Outcome says how a measured change compares with the one that was predicted.
type Outcome int

// The outcomes. The zero value is for a figure that one of the two does not know.
const (
	NotKnown Outcome = iota
	AsPredicted
	MoreThanPredicted // the figure became better than predicted
	LessThanPredicted
)

// PredictedChange compares a predicted change with the measured one.
type PredictedChange struct {
	Figures    [len(response.FigureList)]FigureChange
	Difference Band // of the smoothed curves, over the measured comparison's grid
}

// FigureChange is one figure's change, after less before, in the figure's own unit.
type FigureChange struct {
	Predicted, Low, High float64 // with typical walls; the least and the most of all predictions
	Measured             float64
	Outcome              Outcome
}

// Band is a predicted difference in dB with its range.
type Band struct{ Typical, Low, High []model.Level }

// NewPredictedChange compares a measured change with predictions of it: the first with typical walls,
// others with harder and softer ones. A figure is as predicted within the range of the predictions,
// widened by the differences of repeated measurements ([Repeat]).
func NewPredictedChange(measured *Comparison, predicted ...*Comparison) *PredictedChange {
	p := &PredictedChange{}
	for _, f := range response.FigureList {
		p.Figures[f] = figureChange(f, measured, predicted)
	}
	for _, hz := range measured.Grid {
		typical := predicted[0].at(hz, measured.Aligned)
		low, high := typical, typical
		for _, c := range predicted[1:] {
			low, high = min(low, c.at(hz, measured.Aligned)), max(high, c.at(hz, measured.Aligned))
		}
		p.Difference.Typical = append(p.Difference.Typical, typical)
		p.Difference.Low, p.Difference.High = append(p.Difference.Low, low), append(p.Difference.High, high)
	}
	return p
}

// at returns the difference at a frequency, each curve re its own mean if they are aligned.
func (c *Comparison) at(hz float64, aligned bool) model.Level {
	d := c.After.At(c.After.Curve, hz) - c.Before.At(c.Before.Curve, hz)
	if aligned {
		d -= c.Offset
	}
	return d
}

// figureChange compares one figure with its predictions.
func figureChange(f response.Figure, measured *Comparison, predicted []*Comparison) FigureChange {
	m := measured.Figures[f]
	k := FigureChange{Measured: m.After - m.Before}
	known := m.Known
	k.Low, k.High = math.Inf(1), math.Inf(-1)
	for i, c := range predicted {
		change := c.Figures[f].After - c.Figures[f].Before
		known = known && c.Figures[f].Known
		if i == 0 {
			k.Predicted = change
		}
		k.Low, k.High = min(k.Low, change), max(k.High, change)
	}
	if !known {
		return FigureChange{}
	}
	slack := measured.Resolution[f]
	switch better := lessIsBetter(f, m); {
	case k.Measured >= k.Low-slack && k.Measured <= k.High+slack:
		k.Outcome = AsPredicted
	case (k.Measured < k.Low) == better:
		k.Outcome = MoreThanPredicted
	default:
		k.Outcome = LessThanPredicted
	}
	return k
}

// lessIsBetter reports whether a figure improves as its value falls.
func lessIsBetter(f response.Figure, c response.Change) bool {
	switch f {
	case response.WithinFigure, response.DipFigure:
		return false
	case response.LowOctaveFigure:
		return c.Before > 0
	}
	return true
}

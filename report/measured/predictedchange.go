package measured

import (
	"fmt"

	"evenbass/model/measure/comparison"
	"evenbass/model/response"
	"evenbass/report/card"
	"evenbass/report/svg"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// outcomes are the words for what became of a prediction.
var outcomes = map[comparison.Outcome]string{
	comparison.AsPredicted: "as predicted", comparison.MoreThanPredicted: "better than predicted", comparison.LessThanPredicted: "less than predicted",
}

// predictedChangeLine says whether the change was as predicted.
func (r Comparison) predictedChangeLine() string {
	count := map[comparison.Outcome]int{}
	total := 0
	for _, k := range r.PredictedChange.Figures {
		if k.Outcome != comparison.NotKnown {
			count[k.Outcome]++
			total++
		}
	}
	words := fmt.Sprintf("%d of %d figures changed as predicted", count[comparison.AsPredicted], total)
	if n := count[comparison.MoreThanPredicted]; n > 0 {
		words += fmt.Sprintf(", %d did better", n)
	}
	if n := count[comparison.LessThanPredicted]; n > 0 {
		words += fmt.Sprintf(", %d gained less", n)
	}
	return words + "."
}

// predictedChangeTable holds the measured changes against the predicted ones.
func (r Comparison) predictedChangeTable() text.Table {
	t := text.Table{
		Caption: "Changes from before to after. The range of the prediction is from hard to soft walls. A figure is as predicted within it, or within what a repeated measurement shows.",
		Head:    []string{"", "predicted", "range", r.origin(), ""}, Align: "lrrrl",
	}
	for _, f := range response.FigureList {
		k := r.PredictedChange.Figures[f]
		if k.Outcome == comparison.NotKnown {
			continue
		}
		t.Rows = append(t.Rows, []string{card.Names[f], changeCell(f, k.Predicted), changeCell(f, k.Low) + " to " + changeCell(f, k.High), changeCell(f, k.Measured), outcomes[k.Outcome]})
	}
	return t
}

// changeCell writes the change of a figure with its sign and unit.
func changeCell(f response.Figure, v float64) string {
	sign := ""
	if v > 0 {
		sign = "+"
	}
	switch f {
	case response.WithinFigure:
		return sign + unit.Decimal(100*v, 0) + " points" // of the per cents that a card shows
	case response.WorstFallFigure, response.MeanFallFigure:
		return sign + unit.Decimal(1000*v, 0) + " ms"
	}
	return sign + unit.Decimal(v, 1) + " dB"
}

// predictedChangeSection draws the measured change over the predicted one with its range.
func (r Comparison) predictedChangeSection() section {
	c, p := r.Result, r.PredictedChange
	s := section{
		ID: "predicted-change", Title: "Was the change as predicted?", Lead: r.predictedChangeLine(), Tables: []text.Table{r.predictedChangeTable()},
		Note: "Dashed: the predicted change of level, tinted from hard to soft walls. Solid: the " + r.origin() + " one.",
	}
	s.Graphs = append(s.Graphs, svg.NewPair(func(form svg.Form) *svg.Drawing {
		predicted := svg.Trace{Class: "now", Name: "predicted", X: c.Grid, Range: svg.Range{X: c.Grid}}
		measured := svg.Trace{Class: "result", Name: r.origin(), X: c.Grid}
		for i := range c.Grid {
			predicted.Y = append(predicted.Y, float64(p.Difference.Typical[i]))
			predicted.Range.Low = append(predicted.Range.Low, float64(p.Difference.Low[i]))
			predicted.Range.High = append(predicted.Range.High, float64(p.Difference.High[i]))
			measured.Y = append(measured.Y, float64(c.Difference[i]))
		}
		g := svg.Graph{
			ID: form.Name("predicted-change-difference"), Form: form, Goal: c.Goal, Title: "Change of level, " + r.origin() + " and predicted", Desc: r.predictedChangeLine(),
			Traces: []svg.Trace{predicted, measured}, Scale: svg.Scale{Low: -20, High: 20, Step: 5, Unit: "dB"},
		}
		return g.Drawing()
	}))
	return s
}

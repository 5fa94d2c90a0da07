package place

import (
	"encoding/json"

	"evenbass/model/response"
	"evenbass/optimize/score"
	"evenbass/report/chart"
	"evenbass/report/text"
)

// responseChart returns the options of the chart of one channel: the present
// layout and those found over frequency, each relative to its own mean in the
// goal's band, with its spread shaded. All but the first layout start hidden; the
// page's script shows the one that is chosen.
func responseChart(in *Report, channel response.Channel) (json.RawMessage, error) {
	goal := in.Result.Goal
	drawn := chart.Chart{ID: "response_" + channel.String(), Goal: goal}
	add := func(curve chart.Curve, opacity float64, c *score.Candidate) {
		f := c.Judgement.Figures[channel]
		curve.Points = chart.Levels(in.Grid, c.Judgement.Curves[channel], f.Mean)
		curve.Shade = &chart.Shade{From: goal.From, To: goal.To, Low: float64(f.Lowest.Level), High: float64(f.Highest.Level), Opacity: opacity}
		drawn.Curves = append(drawn.Curves, curve)
	}
	if in.Result.Now != nil {
		add(chart.Now(), 0, in.Result.Now)
	}
	for i := range in.Result.Candidates {
		curve := chart.Layout(i+1, text.LayoutName(i+1))
		curve.Hidden = i > 0
		add(curve, 0.12, &in.Result.Candidates[i])
	}
	return drawn.Options()
}

package report

import (
	"encoding/json"

	"evenbass/model/response"
	"evenbass/optimize"
)

// responseChart returns the options of the chart of one channel: the present
// layout and those found over frequency, each relative to its own mean in the
// goal's band, with its spread shaded. All but the first layout start hidden; the
// page's script shows the one that is chosen.
func responseChart(in *Input, channel response.Channel) (json.RawMessage, error) {
	goal := in.Result.Goal
	drawn := Chart{ID: "response_" + channel.String(), Goal: goal}
	add := func(curve Curve, opacity float64, c *optimize.Candidate) {
		f := c.Judgement.Figures[channel]
		curve.Points = levelPoints(in.Grid, c.Judgement.Curves[channel], f.Mean)
		curve.Shade = &Shade{From: goal.From, To: goal.To, Low: float64(f.Lowest.Level), High: float64(f.Highest.Level), Opacity: opacity}
		drawn.Curves = append(drawn.Curves, curve)
	}
	if in.Result.Now != nil {
		add(nowCurve(), 0, in.Result.Now)
	}
	for i := range in.Result.Candidates {
		curve := layoutCurve(i+1, layoutName(i+1))
		curve.Hidden = i > 0
		add(curve, 0.12, &in.Result.Candidates[i])
	}
	return drawn.Options()
}

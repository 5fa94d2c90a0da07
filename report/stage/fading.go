package stage

import (
	"evenbass/model/response"
	"evenbass/model/response/spectraldecay"
	"evenbass/optimize/stage"
	"evenbass/report/heatmap"
	"evenbass/report/text"
)

// newFading draws how long tones stay now and with all that is planned, both speakers together;
// nil if nothing is planned, or if the plan does not hold it.
func newFading(g *Report) *heatmap.Section {
	if len(g.Plan.Stages) == 0 || g.standing().Fading == nil || g.Plan.End().Fading == nil {
		return nil
	}
	names := g.curveNames()
	return heatmap.NewSection("stage-fading",
		fadingPanel(text.Sentence(names[0]), g.standing()), fadingPanel(text.Sentence(names[len(names)-1]), g.Plan.End()))
}

func fadingPanel(title string, s *stage.State) heatmap.Panel {
	return heatmap.Panel{
		Title: title, Map: spectraldecay.New(s.Fading, spectraldecay.Settings{Long: 1}), Reference: s.Judgement.Figures[response.BothTogether].Mean,
	}
}

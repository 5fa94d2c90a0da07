package place

import (
	"evenbass/model/response"
	"evenbass/model/response/spectraldecay"
	"evenbass/optimize/score"
	"evenbass/report/heatmap"
	"evenbass/report/text"
)

// newFading draws how long tones stay now and with the first layout, both speakers together; nil if
// that was not read.
func newFading(in *Report) *heatmap.Section {
	var panels []heatmap.Panel
	add := func(title string, s *spectraldecay.Signal, c *score.Candidate) {
		if s != nil && c != nil {
			panels = append(panels, heatmap.Panel{
				Title: title, Map: spectraldecay.New(s, spectraldecay.Settings{Long: 1}), Reference: c.Judgement.Figures[response.BothTogether].Mean,
			})
		}
	}
	if in.Fading.Best == nil {
		return nil
	}
	add(text.Sentence(text.NowName), in.Fading.Now, in.Result.Now)
	add(text.Sentence(text.LayoutName(1)), in.Fading.Best, in.best())
	return heatmap.NewSection("place-fading", panels...)
}

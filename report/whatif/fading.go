package whatif

import (
	"evenbass/model/response"
	"evenbass/model/response/spectraldecay"
	"evenbass/optimize/whatif"
	"evenbass/report/heatmap"
	"evenbass/report/text"
)

// newFading draws how long tones stay now and with each option, both speakers together; nil if the
// result does not hold it. The ridge lines compare now with the option that decays fastest, which
// comes last.
func newFading(w *Report) *heatmap.Section {
	panels := []heatmap.Panel{fadingPanel(text.Sentence(text.NowName), &w.Result.Now)}
	fastest := 0
	for i := range w.Result.States {
		if response.MeanFall(w.Result.States[i].Decay) < response.MeanFall(w.Result.States[fastest].Decay) {
			fastest = i
		}
	}
	for i := range w.Result.States {
		if i != fastest {
			panels = append(panels, fadingPanel(w.title(i), &w.Result.States[i]))
		}
	}
	if len(w.Result.States) > 0 {
		panels = append(panels, fadingPanel(w.title(fastest), &w.Result.States[fastest]))
	}
	for _, p := range panels {
		if p.Map == nil {
			return nil
		}
	}
	return heatmap.NewSection("whatif-fading", panels...)
}

// fadingPanel returns the picture of one state; without a map if it holds none.
func fadingPanel(title string, s *whatif.State) heatmap.Panel {
	p := heatmap.Panel{Title: text.Shortened(title, 44), Reference: s.Judgement.Figures[response.BothTogether].Mean}
	if s.Fading != nil {
		p.Map = spectraldecay.New(s.Fading, spectraldecay.Settings{Long: 1})
	}
	return p
}

package measured

import (
	"evenbass/model/measure/analysis"
	"evenbass/report/heatmap"
)

// fadingSection draws how long tones stay in one state or two; without data of each there is none.
func fadingSection(id string, names []string, list ...*analysis.Analysis) (section, bool) {
	var panels []heatmap.Panel
	for i, a := range list {
		if a == nil || a.Fading == nil {
			return section{}, false
		}
		panels = append(panels, heatmap.Panel{Title: names[i], Map: a.Fading, Reference: a.Figures.Mean})
	}
	return section{ID: id, Title: "How long tones stay", Fading: heatmap.NewSection(id, panels...)}, true
}

package measured

import (
	"evenbass/model/measure/analysis"
	"evenbass/report/heatmap"
)

// fadingNote explains the drawings of how long tones stay.
const fadingNote = "A speaker plays a steady tone and fades it out over five periods. Each picture shows how loud the tone still is, re the mean level of its own curve. " +
	"Solid line: from here on the tone is 20 dB below that mean. Dashed line: the tone itself takes that long, so above it the room cannot be told. Levels are averaged over 1/24 octave."

// fadingSection draws how long tones stay in one state or two; without data there is none.
func fadingSection(names []string, list ...*analysis.Analysis) (section, bool) {
	var panels []heatmap.Panel
	for i, a := range list {
		if a.Fading == nil {
			return section{}, false
		}
		panels = append(panels, heatmap.Panel{ID: "fading-" + string(rune('a'+i)), Title: names[i], Map: a.Fading, Reference: a.Figures.Mean})
	}
	scale := heatmap.Fit(panels...)
	s := section{ID: "fading", Title: "How long tones stay", Key: heatmap.Key("fading-key", scale), Note: fadingNote}
	for _, p := range panels {
		s.Drawings = append(s.Drawings, heatmap.Draw(p, scale))
	}
	title := names[0]
	if len(names) > 1 {
		title = "Area: " + names[0] + ". Line: " + names[1]
	}
	s.Ridges = heatmap.Ridges("fading-ridges", title, scale, panels...)
	return s, true
}

package measured

import (
	"embed"
	"fmt"
	"io"
	"math"

	"evenbass/model"
	"evenbass/model/measure/analysis"
	"evenbass/report/heatmap"
	"evenbass/report/html"
	"evenbass/report/svg"
	"evenbass/report/text"
	"evenbass/report/unit"
)

//go:embed page
var pageFiles embed.FS

// view is what the template reads.
type view struct {
	Headline string
	Lines    []string   // under the headline
	Card     text.Table // beside the lines
	Sections []section

	html.Frame
}

// section is a part of a page. Whatever it lacks is left out.
type section struct {
	ID, Title string
	Lead      string
	Graphs    []svg.Pair
	Fading    *heatmap.Section
	Note      string
	Tables    []text.Table
	List      []string
}

// write writes a page.
func (v *view) write(w io.Writer) error {
	for _, s := range v.Sections {
		v.Contents = append(v.Contents, html.Link{ID: s.ID, Text: s.Title})
	}
	return html.Write(w, v, heatmap.Files(), html.Folder(pageFiles, "page"))
}

// part makes the page a part of a longer one.
func (v *view) part(id, title string) (html.Part, error) {
	return html.NewPart(id, title, false, v, heatmap.Files(), html.Folder(pageFiles, "page"))
}

// recipeSection says how every figure was made.
func recipeSection(list ...*analysis.Analysis) section {
	s := section{ID: "recipe", Title: "How the figures are made"}
	goal := list[0].Goal
	s.List = append(s.List,
		fmt.Sprintf("Levels: power means over 1/%d octave. Spread is half the distance from the highest to the lowest within %g–%g Hz; the deviation is taken over the logarithm of frequency.", goal.Smoothing, goal.From, goal.To),
		"Decay by 20 dB: the same filters and fits as for predictions, so you can compare the two.")
	for _, a := range list {
		if a.Decays == nil {
			continue
		}
		s.List = append(s.List,
			fmt.Sprintf("Levels are read from %s before the sound begins to %s after it; the end fades out over 0.1 s.", unit.Seconds(-a.Window.Start), unit.Seconds(a.Window.End)),
			"Decay times: backward integration in third octaves by a filter without phase; noise subtracted, the part beyond the noise replaced by an exponential (ISO 3382-2; Lundeby et al. 1995). T20 asks for 35 dB above the noise, T30 for 45 dB.",
			"Modes: rotation of the signal space (ESPRIT, Roy & Kailath 1989) in bands of 20 Hz, for several numbers of modes and windows; the list holds what most trials agree on.",
			"How long tones stay: cumulative spectra of a tone that fades over five periods (Bunton & Small 1982). Colours are at even distances in OKLab (Ottosson 2020).")
		break
	}
	return s
}

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

// noiseTrace returns the noise of an analysis on the scale of its curve.
func noiseTrace(a *analysis.Analysis) (svg.Trace, bool) {
	if a.Noise == nil {
		return svg.Trace{}, false
	}
	t := svg.Trace{Class: "noise", X: a.Grid}
	shown := false
	for _, l := range a.Noise {
		y := float64(l - a.Figures.Mean)
		if y < svg.LevelBottom {
			y = math.NaN() // below the scale
		}
		shown = shown || y == y
		t.Y = append(t.Y, y)
	}
	return t, shown
}

// differenceGraph draws how much one curve is above another.
func differenceGraph(id, title string, grid model.Grid, d []model.Level, goal model.Goal) svg.Pair {
	return svg.NewPair(func(form svg.Form) *svg.Drawing {
		t := svg.Trace{Class: "result", X: grid}
		for _, l := range d {
			t.Y = append(t.Y, float64(l))
		}
		g := svg.Graph{
			ID: form.Name(id), Form: form, Goal: goal, Traces: []svg.Trace{t}, Title: title, Desc: title + ", in dB over frequency.",
			Scale: svg.Scale{Low: -15, High: 15, Step: 5, Unit: "dB", Height: 190},
		}
		return g.Drawing()
	})
}

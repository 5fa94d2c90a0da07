package measured

import (
	"io"
	"strings"

	"evenbass/report/html"
	"evenbass/report/present"
	"evenbass/report/recording"
	"evenbass/report/svg"
	"evenbass/report/text"
)

// ComparisonPage writes a comparison as one HTML file that needs no network. The same comparison
// gives the same bytes.
func ComparisonPage(w io.Writer, r Comparison) error {
	c := r.Result
	v := &view{
		Headline: r.headline(), Lines: append(r.worseLines(), r.fairLines()...), Card: r.cardTable(),
		Frame: html.Frame{
			Heading: text.RoomName(r.Room), About: "before and after", Kicker: "Did it work?",
			Facts: html.Facts(r.Run, strings.TrimSuffix(r.legend(), ".")),
		},
	}
	v.Sections = append(v.Sections, r.curveSection())
	if r.PredictedChange != nil {
		v.Lines = append([]string{r.predictedChangeLine()}, v.Lines...)
		v.Sections = append(v.Sections, r.predictedChangeSection())
	}
	if s, ok := fadingSection("fading", r.titles(), c.Before, c.After); ok {
		v.Sections = append(v.Sections, s)
	}
	decays := section{ID: "decay", Title: "Decay"}
	if c.Before.Decays != nil && c.After.Decays != nil {
		decays.Tables = append(decays.Tables, decaysTable(r.heads(), c.Before, c.After))
	}
	if c.Before.Modes != nil && c.After.Modes != nil {
		decays.Tables = append(decays.Tables, modePairsTable(r.heads(), c.Before, c.After))
	}
	if decays.Tables != nil {
		v.Sections = append(v.Sections, decays)
	}
	limits := section{ID: "limits", Title: "What the data cannot tell", List: append(recording.Doubts(r.measurements()...), recording.Notes(r.measurements()...)...)}
	if r.Engine != "" {
		limits.List = append(limits.List, r.Engine)
	}
	v.Sections = append(v.Sections, limits, recipeSection(c.Before, c.After))
	v.SetRun(r.Run, "room file and measurements")
	return v.write(w)
}

// titles are the heads as titles.
func (r Comparison) titles() []string {
	h := r.heads()
	return []string{text.Sentence(h[0]), text.Sentence(h[1])}
}

// curveSection draws both curves and their difference.
func (r Comparison) curveSection() section {
	c, h := r.Result, r.heads()
	s := section{
		ID: "curves", Title: "Level at the seat",
		Lead: "Each curve is relative to its own mean in the goal's band, which is shaded. The brackets show how far each reaches up and down.",
	}
	if !c.Aligned {
		s.Note = "The difference holds with the levels as they are: the gain stood still."
	} else {
		s.Note = "For the difference the curves are aligned by their means in the band."
	}
	s.Graphs = append(s.Graphs, svg.NewPair(func(form svg.Form) *svg.Drawing {
		g := svg.Graph{
			ID: form.Name("curves-both"), Form: form, Goal: c.Goal, Title: "Level over frequency",
			Desc:   present.CurveText(h[0], c.Before) + present.CurveText(h[1], c.After),
			Traces: []svg.Trace{present.Trace("now", h[0], c.Before), present.Trace("result", h[1], c.After)},
		}
		if t, ok := noiseTrace(c.After); ok {
			g.Traces = append(g.Traces, t)
		}
		return g.Drawing()
	}), differenceGraph("curves-difference", "Difference: "+h[1]+" less "+h[0], c.Grid, c.Difference, c.Goal))
	return s
}

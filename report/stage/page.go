package stage

import (
	"embed"
	"fmt"
	"io"
	"strings"

	"evenbass/model/response"
	"evenbass/optimize/stage"
	"evenbass/report/heatmap"
	"evenbass/report/html"
	"evenbass/report/present"
	"evenbass/report/svg"
	"evenbass/report/text"
)

//go:embed page
var pageFiles embed.FS

// Page writes a plan of stages as one HTML file that needs no network. The same
// plan gives the same bytes.
func Page(w io.Writer, g Report) error {
	return html.Write(w, newPageView(&g), heatmap.Files(), present.Files(), html.Folder(pageFiles, "page"))
}

// Part is the same page as a part of a longer one.
func Part(id, title string, g Report) (html.Part, error) {
	return html.NewPart(id, title, false, newPageView(&g), heatmap.Files(), present.Files(), html.Folder(pageFiles, "page"))
}

// pageView is what the template reads.
type pageView struct {
	Headline, Reason string
	Moves            []string
	Other            string // what the plan that was not taken would bring
	Rest, Corners    string
	Doubt            string // how sure the verdict is
	Plan             svg.Pair
	Steps            []string
	Cards            []text.Table
	Stages, Decays   text.Table
	Careful          []text.Caution
	Leave, Trust     []string
	Rule, Regret     string
	Response         svg.Pair
	ResponseText     string
	Octaves          text.Table
	Fading           *heatmap.Section
	Present          *present.View

	html.Frame
}

func newPageView(g *Report) *pageView {
	v := &pageView{
		Frame: html.Frame{
			Heading: g.title(), About: "what to build first", Kicker: "What to build first from the batts in hand",
			Facts:    html.Facts(g.Run, text.SizesText(&g.Project.Room, g.Style), "engine "+string(g.Plan.Start.Engine.Kind), "predicted, not measured"),
			Contents: g.contents(), Folded: true,
		},
		Headline: g.headline(), Moves: g.moveLines(), Reason: g.stopLine(), Other: g.otherLine(), Rest: g.restLine(), Corners: g.cornerLine(), Doubt: g.doubt(), Plan: svg.NewPair(g.newStagePlan), Steps: g.steps(),
		Careful: text.AbsorberCautions(g.Style),
		Stages:  g.stageTable(), Decays: g.decayTable(), Leave: g.leaveLines(), Trust: g.trust(),
		Rule: g.ruleLine(), Regret: g.regretLine(), Response: svg.NewPair(g.graph), Octaves: g.octavesTable(), Fading: newFading(g), Present: present.NewView(g.present()),
		ResponseText: fmt.Sprintf("Both speakers together at the seat, smoothed to 1/%d octave; 0 dB is each curve's own mean from %g to %g Hz. The figures count left and right alone too.", g.Plan.Goal.Smoothing, g.Plan.Goal.From, g.Plan.Goal.To),
	}
	if len(v.Steps) > 0 {
		v.Cards = g.cardTables()
	}
	v.SetCautions(text.AbsorberCautions(g.Style))
	v.SetRun(g.Run.By(string(g.Plan.Start.Engine.Kind)), "room file")
	return v
}

// contents links to the parts of the page.
func (g *Report) contents() []html.Link {
	var list []html.Link
	for _, part := range []struct {
		there bool
		link  html.Link
	}{
		{len(g.Plan.Stages) > 0, html.Link{ID: "stages", Text: "Stages"}},
		{g.Present != nil, g.present().Link()},
		{true, html.Link{ID: "curves", Text: "Responses"}},
		{true, html.Link{ID: "decay", Text: "Decay"}},
		{len(g.Plan.Omitted) > 0, html.Link{ID: "leave", Text: "Left out"}},
		{true, html.Link{ID: "trust", Text: "Reliability"}},
		{true, html.Link{ID: "cautions", Text: "Cautions"}},
		{true, html.Link{ID: "again", Text: "Re-run"}},
	} {
		if part.there {
			list = append(list, part.link)
		}
	}
	return list
}

// steps says in a line for each stage what is built where and what it brings.
func (g *Report) steps() []string {
	var lines []string
	before := g.Plan.Start
	for i := range g.Plan.Stages {
		s := &g.Plan.Stages[i]
		lines = append(lines, fmt.Sprintf("%s (%s): %s. Spread %s, before %s.",
			text.Sentence(s.Kind.String()), text.Count(s.Batts, "batt"), g.where(&s.Piece), spread(s.After), spread(before)))
		before = s.After
	}
	return lines
}

// doubt says how sure the verdict is, in one sentence.
func (g *Report) doubt() string {
	return "Predicted from what the room file says of walls and wool, which nobody knows exactly: ignore differences under 1 dB. Build stage 1, measure, then plan again."
}

// curves are those that the chart shows: as it is, the first stage, all stages.
func (g *Report) curves() []*stage.State {
	list := []*stage.State{g.standing()}
	if len(g.Plan.Stages) > 1 {
		list = append(list, g.Plan.Stages[0].After)
	}
	if len(g.Plan.Stages) > 0 {
		list = append(list, g.Plan.End())
	}
	return list
}

// curveNames are those of the curves.
func (g *Report) curveNames() []string {
	switch len(g.Plan.Stages) {
	case 0:
		return []string{text.NowName}
	case 1:
		return []string{text.NowName, "stage 1"}
	}
	return []string{text.NowName, "stage 1", fmt.Sprintf("all %d stages", len(g.Plan.Stages))}
}

// graph draws the responses: as it is, the first stage, all stages.
func (g *Report) graph(form svg.Form) *svg.Drawing {
	graph := svg.Graph{
		ID: form.Name("response"), Form: form, Goal: g.Plan.Goal, Title: "Both speakers together: level over frequency", Desc: g.chartLabel(),
	}
	names, list := g.curveNames(), g.curves()
	for i, h := range list {
		class := map[bool]string{false: "result second", true: "result"}[i == len(list)-1]
		if i == 0 {
			class = "now"
		}
		graph.Traces = append(graph.Traces, svg.NewTrace(class, names[i], g.Plan.Grid, &h.Judgement, response.BothTogether))
	}
	return graph.Drawing()
}

// octavesTable lists the levels of the responses in third octaves.
func (g *Report) octavesTable() text.Table {
	var columns []text.OctaveColumn
	for i, h := range g.curves() {
		c := response.BothTogether
		columns = append(columns, text.OctaveColumn{Name: g.curveNames()[i], Curve: h.Judgement.Curves[c], Mean: h.Judgement.Figures[c].Mean})
	}
	return text.OctavesTable(response.BothTogether, g.Plan.Goal, g.Plan.Grid, columns)
}

// chartLabel tells in words what the chart shows.
func (g *Report) chartLabel() string {
	var parts []string
	names := g.curveNames()
	for i, h := range g.curves() {
		f := h.Judgement.Figures[response.BothTogether]
		parts = append(parts, fmt.Sprintf("%s: %v, lowest at %.0f Hz", names[i], f, f.Lowest.Frequency))
	}
	return "Level over frequency. " + strings.Join(parts, "; ") + "."
}

// newStagePlan draws the room with what is to be built, the pair and the seat.
func (g *Report) newStagePlan(form svg.Form) *svg.Drawing {
	d, v := svg.NewTreatmentPlan(g.Planned, g.Style, form)
	d.Layout(g.Plan.Layout, [3]float64{}, &g.Project.Speakers, v)
	return d
}

// newFading draws how long tones stay now and with all that is planned, both speakers together;
// nil if nothing is planned, or if the plan does not hold it.
func newFading(g *Report) *heatmap.Section {
	if len(g.Plan.Stages) == 0 || g.standing().Fading == nil || g.Plan.End().Fading == nil {
		return nil
	}
	names := g.curveNames()
	panel := func(name string, s *stage.State) heatmap.Panel {
		return heatmap.NewPanel(text.Sentence(name), s.Fading, &s.Judgement)
	}
	return heatmap.NewSection("stage-fading", panel(names[0], g.standing()), panel(names[len(names)-1], g.Plan.End()))
}

package stage

import (
	"embed"
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"evenbass/model/response"
	"evenbass/optimize/stage"
	"evenbass/report/chart"
	"evenbass/report/html"
	"evenbass/report/svg"
	"evenbass/report/text"
)

//go:embed page
var pageFiles embed.FS

// Page writes a plan of stages as one HTML file that needs no network. The same
// plan gives the same bytes.
func Page(w io.Writer, g Report) error {
	view, err := newPageView(&g)
	if err != nil {
		return err
	}
	return html.Write(w, view, html.Folder(pageFiles, "page"))
}

// pageView is what the template reads.
type pageView struct {
	Headline, Reason string
	Plan             *svg.Drawing
	Stages, Decays   text.Table
	Leave, Trust     []string
	Rule, Regret     string
	Charts           []html.Chart
	Legend           []html.LegendEntry

	html.Frame
}

func newPageView(g *Report) (*pageView, error) {
	options, err := newChart(g)
	if err != nil {
		return nil, err
	}
	v := &pageView{
		Frame: html.Frame{
			Heading: g.title(), About: "what to build first", Kicker: "What to build first from the batts in hand",
			Facts:      html.Facts(g.Run, text.SizesText(&g.Project.Room, g.Style), "engine "+string(g.Plan.Start.Engine.Kind), "predicted, not measured"),
			WithCharts: true, WithoutScripts: html.WithoutCharts,
		},
		Headline: g.headline(), Reason: g.stopLine(), Plan: g.newStagePlan(),
		Stages: g.stageTable(), Decays: g.decayTable(), Leave: g.leaveLines(), Trust: g.trust(),
		Rule: g.ruleLine(), Regret: g.regretLine(), Legend: g.legend(),
	}
	v.Charts = []html.Chart{{
		ID: "stage_both", Wide: true, Options: options, Label: g.chartLabel(),
		Title: fmt.Sprintf("Both speakers together at the seat, smoothed to 1/%d octave", g.Plan.Goal.Smoothing),
	}}
	v.SetCautions(text.AbsorberCautions(g.Style))
	v.SetRun(g.Run.By(string(g.Plan.Start.Engine.Kind)), "room file")
	return v, nil
}

// curves are those that the chart shows: as it is, the first stage, all stages.
func (g *Report) curves() []*stage.State {
	list := []*stage.State{g.Plan.Start}
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

func (g *Report) legend() []html.LegendEntry {
	list := []html.LegendEntry{html.LegendEntry{Swatch: "now dash2", Text: text.NowName}}
	for i, name := range g.curveNames()[1:] {
		list = append(list, html.LegendEntry{Swatch: fmt.Sprintf("layout%d dash%d", i+1, i+1), Text: name})
	}
	return list
}

// newChart returns the options of the chart of responses.
func newChart(g *Report) (json.RawMessage, error) {
	line := chart.Chart{ID: "stage_both", Goal: g.Plan.Goal}
	names := g.curveNames()
	for i, h := range g.curves() {
		curve := chart.Now()
		if i > 0 {
			curve = chart.Layout(i, names[i])
		}
		f := h.Judgement.Figures[response.BothTogether]
		curve.Points = chart.Levels(g.Plan.Grid, h.Judgement.Curves[response.BothTogether], f.Mean)
		line.Curves = append(line.Curves, curve)
	}
	return line.Options()
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
func (g *Report) newStagePlan() *svg.Drawing {
	d, v := svg.NewTreatmentPlan(g.Planned, g.Style)
	d.Layout(g.Plan.Layout, [3]float64{}, &g.Project.Speakers, v)
	return d
}

package report

import (
	"embed"
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize"
)

//go:embed page/stage
var stageFiles embed.FS

// StagePage writes a plan of stages as one HTML file that needs no network. The same
// plan gives the same bytes.
func StagePage(w io.Writer, g Staging) error {
	view, err := newStageView(&g)
	if err != nil {
		return err
	}
	return writePage(w, view, folder(stageFiles, "page/stage"))
}

// stageView is what the template reads.
type stageView struct {
	Headline, Reason string
	Plan             *drawing
	Stages, Decays   table
	Leave, Trust     []string
	Rule, Regret     string
	Charts           []chartView
	Legend           []legendEntry

	frame
}

func newStageView(g *Staging) (*stageView, error) {
	options, err := stageChart(g)
	if err != nil {
		return nil, err
	}
	v := &stageView{
		frame: frame{
			Heading: g.title(), About: "what to build first", Kicker: "What to build first from the batts in hand",
			Facts:      factLine(g.Run, sizesText(&g.Project.Room, g.Style), "engine "+g.Engine, "predicted, not measured"),
			WithCharts: true, WithoutScripts: withoutCharts,
		},
		Headline: g.headline(), Reason: g.stopLine(), Plan: g.newStagePlan(),
		Stages: g.stageTable(), Decays: g.decayTable(), Leave: g.leaveLines(), Trust: g.trust(),
		Rule: g.ruleLine(), Regret: g.regretLine(), Legend: g.legend(),
	}
	v.Charts = []chartView{{
		ID: "stage_both", Wide: true, Options: options, Label: g.chartLabel(),
		Title: fmt.Sprintf("Both speakers together at the seat, smoothed to 1/%d octave", g.Plan.Goal.Smoothing),
	}}
	v.setCautions(absorberCautions(g.Style))
	v.setRun(g.Run, "room file")
	return v, nil
}

// curves are those that the chart shows: as it is, the first stage, all stages.
func (g *Staging) curves() []*optimize.Hearing {
	list := []*optimize.Hearing{g.Plan.Start}
	if len(g.Plan.Stages) > 1 {
		list = append(list, g.Plan.Stages[0].After)
	}
	if len(g.Plan.Stages) > 0 {
		list = append(list, g.Plan.End())
	}
	return list
}

// curveNames are those of the curves.
func (g *Staging) curveNames() []string {
	switch len(g.Plan.Stages) {
	case 0:
		return []string{nowName}
	case 1:
		return []string{nowName, "stage 1"}
	}
	return []string{nowName, "stage 1", fmt.Sprintf("all %d stages", len(g.Plan.Stages))}
}

func (g *Staging) legend() []legendEntry {
	list := []legendEntry{legendEntry{Swatch: "now dash2", Text: nowName}}
	for i, name := range g.curveNames()[1:] {
		list = append(list, legendEntry{Swatch: fmt.Sprintf("layout%d dash%d", i+1, i+1), Text: name})
	}
	return list
}

// stageChart returns the options of the chart of responses.
func stageChart(g *Staging) (json.RawMessage, error) {
	line := Chart{ID: "stage_both", Goal: g.Plan.Goal}
	names := g.curveNames()
	for i, h := range g.curves() {
		curve := nowCurve()
		if i > 0 {
			curve = layoutCurve(i, names[i])
		}
		f := h.Judgement.Figures[response.BothTogether]
		curve.Points = levelPoints(model.DefaultGrid(), h.Judgement.Curves[response.BothTogether], f.Mean)
		line.Curves = append(line.Curves, curve)
	}
	return line.Options()
}

// chartLabel tells in words what the chart shows.
func (g *Staging) chartLabel() string {
	var parts []string
	names := g.curveNames()
	for i, h := range g.curves() {
		f := h.Judgement.Figures[response.BothTogether]
		parts = append(parts, fmt.Sprintf("%s: %v, lowest at %.0f Hz", names[i], f, f.Lowest.Frequency))
	}
	return "Level over frequency. " + strings.Join(parts, "; ") + "."
}

// newStagePlan draws the room with what is to be built, the pair and the seat.
func (g *Staging) newStagePlan() *drawing {
	d, v := newTreatmentPlan(g.Planned, g.Style)
	d.layout(g.Plan.Layout, [3]float64{}, &g.Project.Speakers, v)
	return d
}

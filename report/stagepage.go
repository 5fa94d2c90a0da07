package report

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize"
)

// StagePage writes a plan of stages as one HTML file that needs no network. The same
// plan gives the same bytes.
func StagePage(w io.Writer, g Staging) error {
	library, err := readLibrary(assetFiles)
	if err != nil {
		return err
	}
	return renderStages(w, g, library)
}

// renderStages writes the page around a charting library; "" leaves the charts undrawn.
func renderStages(w io.Writer, g Staging, library string) error {
	chart, err := stageChart(&g)
	if err != nil {
		return err
	}
	b := Building{Project: g.Planned, Style: g.Style, Run: g.Run}
	v := &stageView{
		Title: g.title(), Facts: b.facts(), Headline: g.headline(), Reason: reasonText(g.Plan), Plan: g.newStagePlan(&b),
		Stages: g.stageTable(), Decays: g.decayTable(), Leave: g.leaveLines(), Trust: g.trust(),
		Rule: g.ruleLine(), Regret: g.regretLine(), CautionsRule: cautionsRule, Cautions: absorberCautions(),
		Chart:   chartView{ID: "stage_both", Title: "Both speakers together at the seat, smoothed by 1/" + fmt.Sprint(g.Plan.Goal.Smoothing) + " octave", Label: g.chartLabel(), Wide: true, Options: chart},
		Legend:  g.legend(),
		Command: g.Run.Command, Source: g.Run.Source, SourceName: sourceName(g.Run.File),
	}
	if err := v.scripts(library); err != nil {
		return err
	}
	if err := v.style("page/absorb.css"); err != nil {
		return err
	}
	return writeOldPage(w, "stage.gohtml", v)
}

// stageView is what the template reads.
type stageView struct {
	Title, Facts, Headline, Reason string
	Plan                           *drawing
	Stages, Decays                 table
	Leave, Trust                   []string
	Rule, Regret                   string
	CautionsRule                   string
	Cautions                       []caution
	Chart                          chartView
	Legend                         []legendEntry
	Command, Source, SourceName    string

	frame
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
	list := []legendEntry{{"now dash2", nowName}}
	for i, name := range g.curveNames()[1:] {
		list = append(list, legendEntry{fmt.Sprintf("layout%d dash%d", i+1, i+1), name})
	}
	return list
}

// stageChart returns the options of the chart of responses.
func stageChart(g *Staging) (json.RawMessage, error) {
	chart := Chart{ID: "stage_both", Goal: g.Plan.Goal}
	names := g.curveNames()
	for i, h := range g.curves() {
		curve := nowCurve()
		if i > 0 {
			curve = layoutCurve(i, names[i])
		}
		f := h.Judgement.Figures[response.BothTogether]
		curve.Points = levelPoints(model.DefaultGrid(), h.Judgement.Curves[response.BothTogether], f.Mean)
		chart.Curves = append(chart.Curves, curve)
	}
	return chart.Options()
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
func (g *Staging) newStagePlan(b *Building) *drawing {
	size := g.Project.Room.Size
	v := view{origin: point{marginSide, 40}, scale: min(roomWidth/size.Y, planHeight/size.X)}
	d := b.newBuildPlan()
	d.layout(g.Plan.Layout, [3]float64{}, &g.Project.Speakers, v)
	return d
}

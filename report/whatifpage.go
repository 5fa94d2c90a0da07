package report

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"evenbass/model"
	"evenbass/model/response"
)

// WhatIfPage writes a comparison of options as one HTML file that needs no network.
func WhatIfPage(out io.Writer, w WhatIf) error {
	library, err := readLibrary(assetFiles)
	if err != nil {
		return err
	}
	return renderWhatIf(out, w, library)
}

func renderWhatIf(out io.Writer, w WhatIf, library string) error {
	view, err := newWhatIfView(&w)
	if err != nil {
		return err
	}
	if err := view.scripts(library); err != nil {
		return err
	}
	if err := view.style("page/whatif.css"); err != nil {
		return err
	}
	return writeOldPage(out, "whatif.gohtml", view)
}

// whatIfView is what the template reads.
type whatIfView struct {
	Title, Facts, Headline string
	Figures, Decay         table
	More                   []whatIfMore
	Charts                 []chartView
	Curves                 []string // names of the curves of every chart
	Options                []whatIfOption
	Limits, Doubts         []string
	CautionsRule           string
	Cautions               []caution
	Command                string
	Source, SourceName     string

	frame
}

// whatIfOption is one option on the page.
type whatIfOption struct {
	Heading string
	Lines   []string
	Plan    *drawing
}

func newWhatIfView(w *WhatIf) (*whatIfView, error) {
	r := &w.Project.Room
	v := &whatIfView{
		Title: roomName(r.Name), Headline: w.headline() + w.placesLine(), Figures: w.figuresTable(), Decay: w.decayTable(), More: w.moreTables(),
		Limits:       w.limits(),
		CautionsRule: cautionsRule, Cautions: absorberCautions(),
		Command: w.Run.Command, Source: w.Run.Source, SourceName: sourceName(w.Run.File),
	}
	facts := []string{fmt.Sprintf("%s × %s × %s", w.Style.Length(r.Size.X), w.Style.Length(r.Size.Y), w.Style.Length(r.Size.Z)), "engine " + w.Result.Engine, "predicted, not measured"}
	if !w.Run.Date.IsZero() {
		facts = append(facts, w.Run.Date.Format("2 January 2006"))
	}
	v.Facts = strings.Join(facts, " · ")
	for _, d := range w.doubts() {
		v.Doubts = append(v.Doubts, sentence(string(d))+".")
	}
	for i := range w.states() {
		v.Curves = append(v.Curves, stateName(i))
	}
	for i := range w.Result.Variants {
		v.Options = append(v.Options, whatIfOption{Heading: w.title(i), Lines: w.changes(i), Plan: w.plan(i)})
	}
	for _, c := range []response.Channel{response.BothTogether, response.LeftAlone, response.RightAlone} {
		options, err := whatIfChart(w, c)
		if err != nil {
			return nil, err
		}
		v.Charts = append(v.Charts, chartView{
			ID: "whatif_" + c.String(), Title: sentence(channelText(c)), Label: w.chartLabel(c), Wide: true, Options: options,
		})
	}
	return v, nil
}

// whatIfChart returns the options of a chart of one channel: now and every option, each
// curve relative to its own mean, switched on and off by the chart's own legend.
func whatIfChart(w *WhatIf, c response.Channel) (json.RawMessage, error) {
	chart := Chart{ID: "whatif_" + c.String(), Goal: w.Result.Goal, Legend: &Legend{Wide: true}}
	for i, v := range w.states() {
		curve := nowCurve()
		if i > 0 {
			curve = layoutCurve(i, stateName(i))
		}
		curve.Points = levelPoints(w.Result.Grid, v.Judgement.Curves[c], v.Judgement.Figures[c].Mean)
		chart.Curves = append(chart.Curves, curve)
	}
	return chart.Options()
}

// chartLabel says in words what a chart shows.
func (w *WhatIf) chartLabel(c response.Channel) string {
	text := "Chart of level over frequency, " + channelText(c) + ". "
	for i, v := range w.states() {
		text += fmt.Sprintf("%s: spread %s. ", stateName(i), Spread(v.Judgement.Figures[c].Spread))
	}
	return strings.TrimSpace(text)
}

// plan draws the room with an option, the places as they stand.
func (w *WhatIf) plan(i int) *drawing {
	p := w.Result.Variants[i].Project
	size := p.Room.Size
	v := view{origin: point{14, 14}, scale: min(200/size.Y, 280/size.X)}
	d := &drawing{
		ID: fmt.Sprintf("option-%d", i+1), Title: "Plan of the room with option " + letterOf(i), Desc: "The front wall is at the top.",
		Width: px(size.Y*v.scale + 28), Height: px(size.X*v.scale + 28), style: w.Style,
	}
	d.rect("floor", v.box(model.Block{Max: size}))
	d.treatments(p, v)
	d.planWalls(&p.Room, v)
	d.openings(p, v)
	d.layout(w.Result.Layout, [3]float64{}, &p.Speakers, v)
	d.sortKey()
	return d
}

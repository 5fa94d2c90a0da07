package report

import (
	"embed"
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"evenbass/model"
	"evenbass/model/response"
)

//go:embed page/whatif
var whatIfFiles embed.FS

// WhatIfPage writes a comparison of options as one HTML file that needs no network. The
// same comparison gives the same bytes.
func WhatIfPage(out io.Writer, w WhatIf) error {
	view, err := newWhatIfView(&w)
	if err != nil {
		return err
	}
	return writePage(out, view, folder(whatIfFiles, "page/whatif"))
}

// whatIfView is what the template reads.
type whatIfView struct {
	Headline                   string
	Figures, Decay             table
	More                       []whatIfMore
	Charts                     []chartView
	Curves                     []string // names of the curves of every chart
	Options                    []whatIfOption
	Limits, Breaches, Warnings []string

	frame
}

// whatIfOption is one option on the page.
type whatIfOption struct {
	Heading string
	Lines   []string
	Plan    *drawing
}

func newWhatIfView(w *WhatIf) (*whatIfView, error) {
	v := &whatIfView{
		frame: frame{
			Heading: roomName(w.Project.Room.Name), About: "what if", Kicker: "What would these changes do?",
			Facts:      factLine(w.Run, sizesText(&w.Project.Room, w.Style), "engine "+w.Result.Engine, "predicted, not measured"),
			WithCharts: true, WithoutScripts: withoutCharts,
		},
		Headline: w.headline() + w.placesLine(), Figures: w.figuresTable(), Decay: w.decayTable(), More: w.moreTables(),
		Limits: w.limits(), Breaches: w.breachLines(), Warnings: warningSentences(w.shownWarnings()),
	}
	v.setCautions(absorberCautions(w.Style))
	v.setRun(w.Run, "room file and options")
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
	line := Chart{ID: "whatif_" + c.String(), Goal: w.Result.Goal, Legend: &Legend{Wide: true}}
	for i, v := range w.states() {
		curve := nowCurve()
		if i > 0 {
			curve = layoutCurve(i, stateName(i))
		}
		curve.Points = levelPoints(w.Result.Grid, v.Judgement.Curves[c], v.Judgement.Figures[c].Mean)
		line.Curves = append(line.Curves, curve)
	}
	return line.Options()
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
	v := view{origin: xy(14, 14), scale: min(200/size.Y, 280/size.X)}
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

package whatif

import (
	"embed"
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/report/chart"
	"evenbass/report/html"
	"evenbass/report/svg"
	"evenbass/report/text"
	"evenbass/report/unit"
)

//go:embed page
var pageFiles embed.FS

// Page writes a comparison of options as one HTML file that needs no network. The
// same comparison gives the same bytes.
func Page(out io.Writer, w Report) error {
	view, err := newPageView(&w)
	if err != nil {
		return err
	}
	return html.Write(out, view, html.Folder(pageFiles, "page"))
}

// pageView is what the template reads.
type pageView struct {
	Headline                   string
	Figures, Decay             text.Table
	More                       []moreTable
	Charts                     []html.Chart
	Curves                     []string // names of the curves of every chart
	Options                    []option
	Limits, Breaches, Warnings []string

	html.Frame
}

// option is one option on the page.
type option struct {
	Heading string
	Lines   []string
	Plan    *svg.Drawing
}

func newPageView(w *Report) (*pageView, error) {
	v := &pageView{
		Frame: html.Frame{
			Heading: text.RoomName(w.Project.Room.Name), About: "what if", Kicker: "What would these changes do?",
			Facts:      html.Facts(w.Run, text.SizesText(&w.Project.Room, w.Style), "engine "+string(w.Result.Engine.Kind), "predicted, not measured"),
			WithCharts: true, WithoutScripts: html.WithoutCharts,
		},
		Headline: w.headline() + w.placesLine(), Figures: w.figuresTable(), Decay: w.decayTable(), More: w.moreTables(),
		Limits: w.limits(), Breaches: w.breachLines(), Warnings: text.WarningSentences(w.shownWarnings()),
	}
	v.SetCautions(text.AbsorberCautions(w.Style))
	v.SetRun(w.Run.By(string(w.Result.Engine.Kind)), "room file and options")
	for i := range w.states() {
		v.Curves = append(v.Curves, stateName(i))
	}
	for i := range w.Result.States {
		v.Options = append(v.Options, option{Heading: w.title(i), Lines: w.changes(i), Plan: w.plan(i)})
	}
	for _, c := range []response.Channel{response.BothTogether, response.LeftAlone, response.RightAlone} {
		options, err := newChart(w, c)
		if err != nil {
			return nil, err
		}
		v.Charts = append(v.Charts, html.Chart{
			ID: "whatif_" + c.String(), Title: text.Sentence(text.ChannelText(c)), Label: w.chartLabel(c), Wide: true, Options: options,
		})
	}
	return v, nil
}

// newChart returns the options of a chart of one channel: now and every option, each
// curve relative to its own mean, switched on and off by the chart's own legend.
func newChart(w *Report, c response.Channel) (json.RawMessage, error) {
	line := chart.Chart{ID: "whatif_" + c.String(), Goal: w.Result.Goal, Legend: &chart.Legend{Wide: true}}
	for i, v := range w.states() {
		curve := chart.Now()
		if i > 0 {
			curve = chart.Layout(i, stateName(i))
		}
		curve.Points = chart.Levels(w.Result.Grid, v.Judgement.Curves[c], v.Judgement.Figures[c].Mean)
		line.Curves = append(line.Curves, curve)
	}
	return line.Options()
}

// chartLabel says in words what a chart shows.
func (w *Report) chartLabel(c response.Channel) string {
	text := "Chart of level over frequency, " + text.ChannelText(c) + ". "
	for i, v := range w.states() {
		text += fmt.Sprintf("%s: spread %s. ", stateName(i), unit.Spread(v.Judgement.Figures[c].Spread))
	}
	return strings.TrimSpace(text)
}

// plan draws the room with an option, the places as they stand.
func (w *Report) plan(i int) *svg.Drawing {
	p := w.Result.States[i].Project
	size := p.Room.Size
	v := svg.View{Origin: svg.XY(14, 14), Scale: min(200/size.Y, 280/size.X)}
	d := &svg.Drawing{
		ID: fmt.Sprintf("option-%d", i+1), Title: "Plan of the room with option " + letterOf(i), Desc: "The front wall is at the top.",
		Width: svg.Px(size.Y*v.Scale + 28), Height: svg.Px(size.X*v.Scale + 28), Style: w.Style,
	}
	d.Rect("floor", v.Box(model.Block{Max: size}))
	d.Treatments(p, v)
	d.PlanWalls(&p.Room, v)
	d.Openings(p, v)
	d.Layout(w.Result.Layout, [3]float64{}, &p.Speakers, v)
	d.SortKey()
	return d
}

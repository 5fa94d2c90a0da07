package absorb

import (
	"embed"
	"evenbass/report/html"
	"evenbass/report/svg"
	"evenbass/report/text"
	"fmt"
	"io"
	"strings"
)

//go:embed page
var pageFiles embed.FS

// Page writes a comparison of build-ups as one HTML file that needs no
// network: sections, charts, tables, plain words, cautions. The same comparison gives
// the same bytes. It reports a comparison that is empty, too large or does not fit
// together.
func Page(w io.Writer, a Report) error {
	view, err := newPageView(&a)
	if err != nil {
		return err
	}
	return html.Write(w, view, html.Folder(pageFiles, "page"))
}

// pageView is what the template reads.
type pageView struct {
	Headline         string
	BuildUps         []buildUpView
	Charts           []html.Chart
	Figures          text.Table
	Bands            []text.Table
	Recipe           string
	Sources          []string
	Limits, Warnings []string

	html.Frame
}

// buildUpView is one build-up on the page.
type buildUpView struct {
	Heading, Wall, Swatch, Letter, Text string
	Section                             *svg.Drawing
	Layers                              text.Table
	Words                               []string
}

// pageGroup is how many build-ups a table of the page holds side by side.
const pageGroup = 3

func newPageView(a *Report) (*pageView, error) {
	if err := a.check(); err != nil {
		return nil, err
	}
	v := &pageView{
		Frame: html.Frame{
			Heading: a.pageTitle(), About: "what absorbers absorb", Kicker: "Absorbers, layer by layer",
			Facts: html.Facts(a.Run, "20 Hz to 5 kHz", "computed, not measured"), WithCharts: true,
			Contents: []html.Link{
				html.Link{ID: "sections", Text: "Sections"},
				html.Link{ID: "curves", Text: "Absorption"},
				html.Link{ID: "layers", Text: "Layers"},
				html.Link{ID: "bands", Text: "Third octaves"},
				html.Link{ID: "trust", Text: "Reliability"},
				html.Link{ID: "cautions", Text: "Cautions"},
				html.Link{ID: "again", Text: "Re-run"},
			},
			Folded: true,
		},
		Headline: a.headline(), Figures: a.figuresTable(), Bands: a.bandTables(pageGroup),
		Recipe: a.recipe(), Sources: a.sources(), Limits: a.limits(), Warnings: a.warnings(),
	}
	v.SetCautions(text.AbsorberCautions(a.Style))
	v.SetRun(a.Run, "layers")
	for i := range a.BuildUps {
		v.BuildUps = append(v.BuildUps, buildUpView{
			Heading: a.heading(i), Wall: text.Printable(a.BuildUps[i].Wall), Letter: a.letter(i), Text: strings.TrimPrefix(a.heading(i), a.letter(i)),
			Swatch:  fmt.Sprintf("layout%d dash%d%s", i%5+1, i%3+1, map[bool]string{true: " fine"}[i >= 3]),
			Section: newSection(a, i), Layers: a.layersTable(i), Words: a.BuildUps[i].Words,
		})
	}
	for _, inc := range incidences() {
		options, err := newChart(a, inc)
		if err != nil {
			return nil, err
		}
		v.Charts = append(v.Charts, html.Chart{ID: inc.id, Title: inc.title, Label: chartLabel(a, inc), Wide: true, Options: options})
	}
	return v, nil
}

func (a *Report) pageTitle() string {
	if title := strings.TrimSpace(text.Printable(a.Title)); title != "" {
		return title
	}
	if len(a.BuildUps) == 1 {
		return "One build-up"
	}
	return fmt.Sprintf("%d build-ups compared", len(a.BuildUps))
}

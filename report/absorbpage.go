package report

import (
	"embed"
	"fmt"
	"io"
	"strings"
)

//go:embed page/absorb
var absorbFiles embed.FS

// AbsorptionPage writes a comparison of build-ups as one HTML file that needs no
// network: sections, charts, tables, plain words, cautions. The same comparison gives
// the same bytes. It reports a comparison that is empty, too large or does not fit
// together.
func AbsorptionPage(w io.Writer, a Absorption) error {
	view, err := newAbsorptionView(&a)
	if err != nil {
		return err
	}
	return writePage(w, view, folder(absorbFiles, "page/absorb"))
}

// absorptionView is what the template reads.
type absorptionView struct {
	Headline         string
	BuildUps         []buildUpView
	Charts           []chartView
	Figures          table
	Bands            []table
	Recipe           string
	Sources          []string
	Limits, Warnings []string

	frame
}

// buildUpView is one build-up on the page.
type buildUpView struct {
	Heading, Wall, Swatch, Letter, Text string
	Section                             *drawing
	Layers                              table
	Words                               []string
}

// pageGroup is how many build-ups a table of the page holds side by side.
const pageGroup = 3

func newAbsorptionView(a *Absorption) (*absorptionView, error) {
	if err := a.check(); err != nil {
		return nil, err
	}
	v := &absorptionView{
		frame: frame{
			Heading: a.pageTitle(), About: "what absorbers absorb", Kicker: "Absorbers, layer by layer",
			Facts: factLine(a.Run, "20 Hz to 5 kHz", "computed, not measured"), WithCharts: true, WithoutScripts: withoutCharts,
			Contents: []link{
				link{ID: "sections", Text: "Sections"},
				link{ID: "curves", Text: "Absorption"},
				link{ID: "layers", Text: "Layers"},
				link{ID: "bands", Text: "Third octaves"},
				link{ID: "trust", Text: "Reliability"},
				link{ID: "cautions", Text: "Cautions"},
				link{ID: "again", Text: "Re-run"},
			},
		},
		Headline: a.headline(), Figures: a.figuresTable(), Bands: a.bandTables(pageGroup),
		Recipe: a.recipe(), Sources: a.sources(), Limits: a.limits(), Warnings: a.warnings(),
	}
	v.setCautions(absorberCautions(a.Style))
	v.setRun(a.Run, "layers")
	for i := range a.BuildUps {
		v.BuildUps = append(v.BuildUps, buildUpView{
			Heading: a.heading(i), Wall: printable(a.BuildUps[i].Wall), Letter: a.letter(i), Text: strings.TrimPrefix(a.heading(i), a.letter(i)),
			Swatch:  fmt.Sprintf("layout%d dash%d%s", i%5+1, i%3+1, map[bool]string{true: " fine"}[i >= 3]),
			Section: newSection(a, i), Layers: a.layersTable(i), Words: a.BuildUps[i].Words,
		})
	}
	for _, inc := range incidences() {
		options, err := absorptionChart(a, inc)
		if err != nil {
			return nil, err
		}
		v.Charts = append(v.Charts, chartView{ID: inc.id, Title: inc.title, Label: absorptionLabel(a, inc), Wide: true, Options: options})
	}
	return v, nil
}

func (a *Absorption) pageTitle() string {
	if title := strings.TrimSpace(printable(a.Title)); title != "" {
		return title
	}
	if len(a.BuildUps) == 1 {
		return "One build-up"
	}
	return fmt.Sprintf("%d build-ups compared", len(a.BuildUps))
}

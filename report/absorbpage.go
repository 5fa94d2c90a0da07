package report

import (
	"fmt"
	"io"
	"strings"
)

// AbsorptionPage writes a comparison of build-ups as one HTML file that needs no
// network: sections, charts, tables, plain words, cautions. The same comparison gives
// the same bytes. A comparison that is empty, too large or does not fit together is an
// error.
func AbsorptionPage(w io.Writer, a Absorption) error {
	library, err := readLibrary(assetFiles)
	if err != nil {
		return err
	}
	return renderAbsorption(w, a, library)
}

// renderAbsorption writes the page around a charting library; "" leaves the charts
// undrawn.
func renderAbsorption(w io.Writer, a Absorption, library string) error {
	if err := a.check(); err != nil {
		return err
	}
	view, err := newAbsorptionView(&a)
	if err != nil {
		return err
	}
	if err := view.scripts(library); err != nil {
		return err
	}
	if err := view.style("page/absorb.css"); err != nil {
		return err
	}
	return writeOldPage(w, "absorb.gohtml", view)
}

// absorptionView is what the template reads.
type absorptionView struct {
	Title, Facts, Headline string
	BuildUps               []buildUpView
	Charts                 []chartView
	Figures                table
	Bands                  []table
	Recipe                 string
	Sources                []string
	Limits, Doubts         []string
	CautionsRule           string
	Cautions               []caution
	Again, Command         string
	Source, SourceName     string

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
	v := &absorptionView{
		Title: a.pageTitle(), Facts: a.facts(), Headline: a.headline(),
		Figures: a.figuresTable(), Bands: a.bandTables(pageGroup),
		Recipe: a.recipe(), Sources: a.sources(), Limits: absorptionLimits(), Doubts: a.doubts(),
		CautionsRule: cautionsRule, Cautions: absorberCautions(),
		Again: "The same build-ups and version give the same page to the last digit.", Command: a.Run.Command,
		Source: a.Run.Source, SourceName: sourceName(a.Run.File),
	}
	if a.Run.Version != "" {
		v.Again += " Made by evenbass " + printable(a.Run.Version) + "."
	}
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
		return "What one build-up does"
	}
	return fmt.Sprintf("%d build-ups compared", len(a.BuildUps))
}

// facts is the line under the title.
func (a *Absorption) facts() string {
	parts := []string{"20 Hz to 5 kHz", "computed, not measured"}
	if !a.Run.Date.IsZero() {
		parts = append(parts, a.Run.Date.Format("2 January 2006"))
	}
	return strings.Join(parts, " · ")
}

package place

import (
	"fmt"

	"evenbass/model/response"
	"evenbass/optimize"
	"evenbass/optimize/score"
	"evenbass/report/floormap"
	"evenbass/report/html"
	"evenbass/report/svg"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// pageView is what the page's template reads.
type pageView struct {
	Verdict      verdict
	Figures      []figure
	Plan, Side   *svg.Drawing
	DrawingNote  string
	Marks        text.Table
	Moves, Steps []string
	StepsTitle   string
	Diagonals    text.Table
	CurvesText   string
	Choices      []choice
	Charts       []html.Chart
	Clipped      string
	Faults       []faultsView
	ModeChart    *html.Chart
	Modes        text.Table
	Layouts      text.Table
	Seats        *seatsView
	Standing     *standingView
	Facing       *facingView
	Floor        *floormap.View
	Breaches     []string
	LayoutsNote  string
	Assumed      string
	Walls        text.Table
	Sources      []string
	Warnings     []string
	Limits       []string
	Measuring    []string

	html.Frame
}

// figure is one of the three on the first page: from the present to the best.
type figure struct{ Name, Now, Best, Recipe string }

// choice is one entry of the charts' legend, which is also the choice of layout.
type choice struct {
	Name, Spread, Swatch string
	Now, First           bool
}

func newChoices(r *optimize.Result) []choice {
	var all []choice
	if r.Now != nil {
		all = append(all, choice{Name: text.NowName, Spread: unit.Spread(r.Now.Judgement.Spread()), Swatch: "now", Now: true})
	}
	for i := range r.Candidates {
		all = append(all, choice{
			Name: text.LayoutName(i + 1), Spread: unit.Spread(r.Candidates[i].Judgement.Spread()), First: i == 0,
			Swatch: fmt.Sprintf("layout%d dash%d", i%5+1, i%3+1),
		})
	}
	return all
}

type faultsView struct {
	Title string
	Lines []faultLine
}

type faultLine struct{ What, Why string }

func newPageView(in *Report) (*pageView, error) {
	p, r, s := in.Project, in.Result, in.Style
	v := &pageView{
		Frame: html.Frame{
			Heading: text.RoomName(p.Room.Name), About: "places for loudspeakers and listener", Kicker: "Low end of a room, predicted",
			Facts: facts(in), Contents: contents(in), WithCharts: true,
			WithoutScripts: html.WithoutCharts,
		},
		Verdict: newVerdict(r, p, s), Figures: newFigures(r),
		Plan: newPlan(in), Side: newSide(in), DrawingNote: drawingNote(in),
		Marks: marksTable(in.best(), p, s), Moves: moveLines(in.best(), r.Now, s), Steps: stepLines(r, s), StepsTitle: stepsHeading,
		Diagonals:  diagonalsTable(in.best().Layout, s),
		CurvesText: curvesText(in), Clipped: clipped(in),
		Modes: modesTable(in.Modes, tableModes), Layouts: layoutsTable(r, s), LayoutsNote: layoutsNote(in),
		Assumed: assumed(in), Walls: wallsTable(in.Walls, s), Sources: sources(in.Walls), Limits: limits(r),
		Measuring: measuringSteps(s),
	}
	v.SetCautions(text.Cautions(s))
	v.SetRun(in.Run, "room file and seed")
	v.Again += fmt.Sprintf(" Seed %d; the search ended: %s.", r.Seed, r.Stopped)
	v.Seats, v.Standing, v.Facing = newSeatsView(r, s), newStandingView(in), newFacingView(r, s)
	v.Choices = newChoices(r)
	for _, f := range in.Faults {
		v.Faults = append(v.Faults, newFaultsView(f, s))
	}
	if r.Now != nil {
		v.Breaches = text.BreachLines(r.Now.Breaches, s)
	}
	v.Warnings = text.WarningSentences(in.AllWarnings())
	if in.Floor != nil {
		var err error
		m := floormap.Report{Project: p, Survey: in.Floor, Number: 1, Engine: r.Engine, Style: s}
		if v.Floor, err = floormap.NewView(&m); err != nil {
			return nil, err
		}
	}
	return v, v.charts(in)
}

// contents links to the parts of the page.
func contents(in *Report) []html.Link {
	list := []html.Link{html.Link{ID: "places", Text: "Places"}, html.Link{ID: "curves", Text: "Response"}, html.Link{ID: "causes", Text: "Causes"}, html.Link{ID: "modes", Text: "Modes"}, html.Link{ID: "layouts", Text: "Layouts"}}
	if in.Floor != nil {
		list = append(list, html.Link{ID: "floor", Text: "Floor"})
	}
	return append(list, html.Link{ID: "assumed", Text: "Assumptions"}, html.Link{ID: "measuring", Text: "Measuring"}, html.Link{ID: "cautions", Text: "Cautions"}, html.Link{ID: "again", Text: "Re-run"})
}

// charts adds the charts: both together wide, left and right side by side, modes.
func (v *pageView) charts(in *Report) error {
	for _, c := range []response.Channel{response.BothTogether, response.LeftAlone, response.RightAlone} {
		options, err := responseChart(in, c)
		if err != nil {
			return err
		}
		v.Charts = append(v.Charts, html.Chart{
			ID: "response_" + c.String(), Title: text.Sentence(text.ChannelText(c)), Label: responseLabel(in, c),
			Wide: c == response.BothTogether, Options: options,
		})
	}
	if len(in.Modes) == 0 {
		return nil
	}
	options, err := modeChart(in.Modes)
	if err != nil {
		return err
	}
	v.ModeChart = &html.Chart{
		ID: "mode_falls", Title: "Every mode up to 300 Hz: where it is and how long it rings", Options: options, Wide: true, Low: true,
		Label: fmt.Sprintf("Chart of %d room modes by frequency and decay time; the table below lists those up to %d Hz.", len(in.Modes), tableModes),
	}
	return nil
}

func newFigures(r *optimize.Result) []figure {
	all := []figure{
		{Name: "Spread", Recipe: r.Goal.String() + ", worst of left, right, both"},
		{Name: "Deepest point", Recipe: "relative to the mean of the same curve"},
		{Name: "Left versus right", Recipe: "mean difference in the same band"},
	}
	read := func(c *score.Candidate) [3]string {
		j := &c.Judgement
		return [3]string{unit.Spread(j.Spread()), unit.Decibels(j.Figures[j.Worst].Lowest.Level), unit.Difference(j.Difference)}
	}
	best := read(&r.Candidates[0])
	for i := range all {
		all[i].Best = best[i]
		if r.Now != nil {
			all[i].Now = read(r.Now)[i]
		}
	}
	return all
}

func newFaultsView(f LayoutFaults, s unit.Style) faultsView {
	v := faultsView{Title: text.Sentence(faultsTitle(&f))}
	for _, fault := range f.Faults {
		v.Lines = append(v.Lines, faultLine{faultText(fault.Feature) + ".", whyText(fault, s)})
	}
	return v
}

// sources names each construction once with where its figures come from.
func sources(walls []Wall) []string {
	var lines []string
	seen := map[string]bool{}
	for _, w := range walls {
		line := text.Printable(w.Taken) + ": " + sourceText(w)
		if sourceText(w) != "" && !seen[line] {
			seen[line] = true
			lines = append(lines, line)
		}
	}
	return lines
}

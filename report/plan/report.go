package plan

import (
	"fmt"
	"strings"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/observation"
	"evenbass/optimize/plan"
	buildpage "evenbass/report/build"
	"evenbass/report/card"
	"evenbass/report/html"
	"evenbass/report/measured"
	"evenbass/report/place"
	"evenbass/report/present"
	stagepage "evenbass/report/stage"
	"evenbass/report/text"
	"evenbass/report/unit"
	whatifpage "evenbass/report/whatif"
)

// Report is a plan with what is shown with it.
type Report struct {
	Plan     *plan.Plan
	Present  *observation.Present // what was measured as things stand; nil without
	Warnings []model.Warning      // about measurements of the room file that cannot be used
	File     string               // the room file, as commands name it
	Style    unit.Style
	Run      html.Run
}

func (r *Report) project() *model.Project { return r.Plan.Study.Project }

func (r *Report) places() place.Report {
	in := place.New(r.Plan.Study, r.Plan.Places, r.Style, r.Run)
	in.Present = r.Present
	return in
}

func (r *Report) options() whatifpage.Report {
	return whatifpage.Report{Project: r.Plan.Placed, Result: r.Plan.Options, Moved: r.Plan.Moved, Style: r.Style, Run: r.Run}
}

func (r *Report) stages() stagepage.Report {
	s := r.Plan.Stages
	return stagepage.Report{Project: r.Plan.Placed, Planned: s.Planned, Plan: s.Plan, Style: r.Style, Run: r.Run}
}

func (r *Report) pieces() buildpage.Report {
	return buildpage.Report{Project: r.Plan.Built, Plan: r.Plan.Pieces, Style: r.Style, Run: r.Run}
}

func (r *Report) measurements() measured.Report {
	m := measured.Report{Room: r.project().Room.Name, Style: r.Style, Run: r.Run}
	for _, one := range r.Present.Speakers {
		m.Analyses = append(m.Analyses, one.Measured)
	}
	return m
}

// teaching says which measurement would teach most, if that is known.
func (r *Report) teaching() []string {
	if r.Present == nil {
		return nil
	}
	if line := present.Teaching(r.Present, r.Style); line != "" {
		return []string{line}
	}
	return nil
}

// standing says where speakers and seat are while treatments are judged.
func (r *Report) standing() string {
	if r.Plan.Moved {
		return "Here \"now\" and \"present\" mean the room after you have moved speakers and seat to layout 1, since moving costs nothing."
	}
	return "Speakers and seat stay where they stand now."
}

// Words for steps that are missing.
var missing = map[plan.Step]string{
	plan.CompareOptions: "Comparing changes", plan.ChooseStages: "What to build first", plan.BuildPieces: "What to buy and cut",
}

// missingLines say what the plan leaves out, why, and how to ask for it.
func (r *Report) missingLines() []string {
	var lines, quick []string
	for _, m := range r.Plan.Missing {
		if m.Why == plan.LeftOut {
			quick = append(quick, strings.ToLower(missing[m.Step]))
			continue
		}
		lines = append(lines, missing[m.Step]+": "+r.why(m))
	}
	if len(quick) > 0 {
		lines = append([]string{text.Sentence(text.And(quick)) + ": run evenbass plan without --quick."}, lines...)
	}
	for _, b := range r.Plan.Blocked {
		lines = append(lines, fmt.Sprintf("Option %s: %s %s.", model.Quote(b.Option), model.Printable(b.By.Piece), text.ObstructionText(b.By.Obstruction, r.Style)))
	}
	return append(lines, text.WarningSentences(r.Warnings, r.Style)...)
}

// why says why a step is missing, and how to ask for it.
func (r *Report) why(m plan.Missing) string {
	ask := map[plan.Step]string{plan.CompareOptions: "whatif", plan.ChooseStages: "stage", plan.BuildPieces: "build"}[m.Step]
	switch m.Why {
	case plan.Stopped:
		return "stopped by hand before it was done."
	case plan.OutOfTime:
		return fmt.Sprintf("the time was used up; evenbass %s does it alone.", ask)
	case plan.NoOptions:
		return "the room file names no options; the stages choose from your stock instead. Compare changes of your own with options in the room file, or with evenbass whatif --add."
	case plan.AllBlocked:
		return "each of the options blocks what must stay usable."
	case plan.Nothing:
		return "there is nothing to build yet."
	}
	if m.Step == plan.ChooseStages && r.project().Stock == nil {
		return "give the room file a stock of batts, and the plan says what to build first from it."
	}
	return fmt.Sprintf("%v.", m.Err)
}

// headline says what moving brings, then what building brings on top.
func (r *Report) headline() string {
	in := r.places()
	words := place.Headline(&in)
	if s := r.Plan.Stages; s != nil && len(s.Plan.Stages) > 0 {
		words += fmt.Sprintf(" Building %s then brings the spread to %s.", text.Count(len(s.Plan.Stages), "stage"), unit.Spread(s.Plan.End().Judgement.Spread()))
	}
	return words
}

// gains is what each step brings: a row for the room now, after moving, and after each stage.
func (r *Report) gains() text.Table {
	goal := r.Plan.Places.Result.Goal
	t := text.Table{
		Caption: fmt.Sprintf("What each step brings (%v; the worst of left, right, both)", goal),
		Head:    []string{"after", "spread", "standard\ndeviation", "within\n±6 dB", "mean 20 dB\ndecay"},
	}
	result := r.Plan.Places.Result
	add := func(name string, c *response.Ranged, more ...string) {
		row := []string{name}
		for _, f := range []response.Figure{response.SpreadFigure, response.DeviationFigure, response.WithinFigure, response.MeanFallFigure} {
			cell := card.Cell(c.Card, f)
			if now := result.Now; now != nil && c != &now.Card {
				if change := c.Compare(&now.Card)[f]; change.Known {
					cell += " " + card.Signs[change.Mark]
				}
			}
			row = append(row, cell)
		}
		t.Rows = append(t.Rows, append(row, more...))
	}
	if result.Now != nil {
		t.Caption += ". Against now: " + card.Key
		add("nothing: as it is now", &result.Now.Card)
	}
	if r.Plan.Moved {
		add("moving, as drawn", &result.Candidates[0].Card)
	}
	if r.Plan.Stages == nil || len(r.Plan.Stages.Plan.Stages) == 0 {
		return t
	}
	t.Head = append(t.Head, "batts")
	for i := range t.Rows {
		t.Rows[i] = append(t.Rows[i], "")
	}
	for i, s := range r.Plan.Stages.Plan.Stages {
		add(fmt.Sprintf("stage %d: %v", i+1, s.Kind), &s.After.Card, fmt.Sprint(s.Batts))
	}
	return t
}

// engines says which engines computed the steps, if they differ.
func (r *Report) engines() string {
	places := r.Plan.Places.Result.Engine.Kind
	if s := r.Plan.Stages; s != nil && s.Plan.Start.Engine.Kind != places {
		return fmt.Sprintf("Places are computed by the engine %s, stages by %s; for the room as it stands before stage 1 the second gives %s. "+
			"All figures are predicted, not measured. The stages come from a shorter search than that of evenbass stage.",
			places, s.Plan.Start.Engine.Kind, unit.Spread(s.Plan.Start.Judgement.Spread()))
	}
	return "All figures are predicted, not measured."
}

// measuring says how to check the plan.
func (r *Report) measuring() []string {
	file := r.File
	return append(r.teaching(), []string{
		"Write the test signal and read the checklist: evenbass sweep -o sweep.wav " + file + ". Start quietly: bass can damage drivers and ears before it sounds loud.",
		"Record it before you move anything, then turn the recording into measurements: evenbass measure " + file + " recording.wav --sweep sweep.wav --state bare -o before.",
		"Name the files under measurements in the room file. This plan then shows them, and evenbass calibrate fits the room to them.",
		"Measure again after each step: evenbass compare " + file + " before-left.txt after-left.txt says whether it worked.",
	}...)
}

// roomName is the heading of page and text.
func (r *Report) roomName() string { return strings.TrimSpace(text.RoomName(r.project().Room.Name)) }

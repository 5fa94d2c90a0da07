package place

import (
	"errors"
	"fmt"
	"strconv"

	"evenbass/model"
	"evenbass/optimize"
	"evenbass/optimize/floormap"
	"evenbass/optimize/observation"
	"evenbass/optimize/score"
	"evenbass/optimize/series"
	"evenbass/optimize/study"
	"evenbass/optimize/uncertainty"
	"evenbass/report/card"
	"evenbass/report/html"
	"evenbass/report/present"
	"evenbass/report/room"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// Report is everything that a page shows.
type Report struct {
	Project *model.Project
	Result  *optimize.Result
	Grid    model.Grid // of the result's curves, Hz

	Walls    []room.Wall     // what is assumed for each surface
	Modes    []room.Mode     // ascending in frequency
	Faults   []LayoutFaults  // of the layouts that are explained; the page has room for two
	Warnings []model.Warning // beyond those of project and result

	Floor     *floormap.Survey       // of the first layout; nil leaves the maps out
	Fading    study.Fading           // how long tones stay; zero leaves the drawings out
	Series    *series.Table          // the field between the zones; nil leaves the page without an answer for other places
	Variants  []study.Variant        // the same with options of the room file
	Thumb     *study.Thumb           // what rules of thumb give; nil leaves it out
	Widened   *study.Widened         // what wider default rules give; nil where none binds
	Present   *observation.Present   // what was measured as the room stands; nil if nothing was
	Stability *uncertainty.Stability // of the layouts; nil if there were no trials

	Full  bool // the text holds everything, not only what comes first
	Style unit.Style
	Run   html.Run

	Batch any // what a batch leaves in the JSON under the key "batch"; nil leaves it out
}

// LayoutFaults is the worst dips of one layout with what causes them.
type LayoutFaults = study.LayoutFaults

// faultsTitle says of which layout faults are.
func faultsTitle(f *LayoutFaults) string {
	if f.Number == 0 {
		return "as it stands now"
	}
	return fmt.Sprintf("layout %d", f.Number)
}

// check reports what keeps an input from being shown at all.
func (in *Report) check() error {
	switch {
	case in.Project == nil:
		return errors.New("report: no project to show")
	case in.Result == nil:
		return errors.New("report: no result to show")
	case len(in.Result.Candidates) == 0:
		return errors.New("report: the search found no layout, so there is nothing to show")
	}
	for _, c := range in.Result.Shown() {
		for _, curve := range c.Judgement.Curves {
			if len(curve) != len(in.Grid) {
				return fmt.Errorf("report: a curve has %d values, the grid has %d", len(curve), len(in.Grid))
			}
		}
	}
	return nil
}

// now returns the state of the present places, which must be known.
func (in *Report) now() card.State {
	return card.Of(text.NowName, in.Result.Now, 0, nil)
}

// nowOrNil is now, or nil if nothing stands yet.
func (in *Report) nowOrNil() *card.State {
	if in.Result.Now == nil {
		return nil
	}
	return new(in.now())
}

// layout returns the state of layout i, from 0.
func (in *Report) layout(i int) card.State {
	name := strconv.Itoa(i + 1)
	if st := in.Stability; st != nil && i < len(st.Layouts) {
		return card.Of(name, &in.Result.Candidates[i], st.Trials, &st.Layouts[i])
	}
	return card.Of(name, &in.Result.Candidates[i], 0, nil)
}

// states returns the present state, if there is one, and the layouts in their order.
func (in *Report) states() []card.State {
	var list []card.State
	if in.Result.Now != nil {
		list = append(list, in.now())
	}
	for i := range in.Result.Candidates {
		list = append(list, in.layout(i))
	}
	return list
}

// present is what was measured, with layout 1 beside it.
func (in *Report) present() present.Report {
	r := present.Report{Present: in.Present, Calibrated: in.Project.Room.Calibration != nil, Style: in.Style}
	if len(in.Result.Candidates) > 0 {
		r.After = present.After{Name: text.LayoutName(1), Level: present.LevelAt(in.Grid, &in.best().Judgement)}
	}
	return r
}

// best returns the first layout found.
func (in *Report) best() *score.Candidate { return &in.Result.Candidates[0] }

// AllWarnings returns every warning once, in the order of project, result, caller.
func (in *Report) AllWarnings() []model.Warning {
	return text.UniqueWarnings(in.Project.Warnings, in.Result.Warnings, in.Warnings)
}

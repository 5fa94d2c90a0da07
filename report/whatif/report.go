package whatif

import (
	"fmt"
	"strings"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/whatif"
	"evenbass/report/html"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// Report is a comparison of options with what is shown with it, for [WhatIfText],
// [WhatIfPage], [WhatIfJSON] and [WhatIfCSV].
type Report struct {
	Project *model.Project
	Result  *whatif.Comparison
	Style   unit.Style
	Run     html.Run
}

// Text returns a comparison of options as text for a terminal.
func Text(w Report) string {
	var b strings.Builder
	b.WriteString(text.RoomLine(w.Project, w.Style) + "\n\n")
	b.WriteString(text.Wrap(w.headline()+w.placesLine(), text.Columns, "") + "\n\n")
	for i := range w.Result.States {
		b.WriteString(text.Wrap(w.title(i), text.Columns, "   ") + "\n")
	}
	text.WriteTable(&b, w.figuresTable())
	text.WriteTable(&b, w.decayTable())
	for _, t := range w.moreTables() {
		text.WriteTable(&b, t.Table)
	}
	for i := range w.Result.States {
		text.WriteList(&b, "What "+letterOf(i)+" changes", w.changes(i))
	}
	text.WriteList(&b, "How far to trust it", w.limits())
	text.WriteList(&b, "Cautions", text.CautionLines(text.AbsorberCautions(w.Style)))
	text.WriteList(&b, text.BreachesHeading, w.breachLines())
	text.WriteWarnings(&b, w.shownWarnings(), w.Style)
	return b.String()
}

// letterOf names an option: A, B, ...
func letterOf(i int) string { return strings.ToUpper(text.LetterName(i)) }

// title is an option's letter and name.
func (w *Report) title(i int) string {
	return letterOf(i) + ": " + text.Printable(w.Result.States[i].Name)
}

// called is an option's letter and name, for a sentence.
func (w *Report) called(i int) string {
	return fmt.Sprintf("%s (%s)", letterOf(i), text.Printable(w.Result.States[i].Name))
}

// headline says which option evens out the bass most, and whether the gain is noticeable.
func (w *Report) headline() string {
	r, best := w.Result, -1
	for i := range r.States {
		if best < 0 || r.States[i].Judgement.Spread() < r.States[best].Judgement.Spread() {
			best = i
		}
	}
	now := r.Now.Judgement.Spread()
	if best < 0 {
		return fmt.Sprintf("The spread is now %s (%v).", unit.Spread(now), r.Goal)
	}
	spread := r.States[best].Judgement.Spread()
	if now-spread < text.Noticeable {
		return fmt.Sprintf("None of these evens out the bass by 1 dB with everything in its present place: %s now, %s at best, with %s (%v). Look at the decay as well.",
			unit.Spread(now), unit.Spread(spread), w.called(best), r.Goal)
	}
	text := fmt.Sprintf("With everything in its present place, %s evens out the bass most: from %s to %s (%v)", w.called(best), unit.Spread(now), unit.Spread(spread), r.Goal)
	if r.States[best].MeanFall() > 1.05*r.Now.MeanFall() {
		text += ", but the sound decays more slowly with it"
	}
	return text + "."
}

// figuresTable has a row for the room as it is and one for each option.
func (w *Report) figuresTable() text.Table {
	t := text.Table{
		Caption: fmt.Sprintf("Everything in its present place; spread %v, worst of left, right, both", w.Result.Goal),
		Head:    []string{"", "spread", "change", "low end", "20 dB decay", "floor", "weight", "to buy"},
	}
	all := w.states()
	for i, v := range all {
		t.Rows = append(t.Rows, w.row(stateName(i), v))
	}
	return t
}

// states returns the room as it is and with each option.
func (w *Report) states() []*whatif.State {
	all := []*whatif.State{&w.Result.Now}
	for i := range w.Result.States {
		all = append(all, &w.Result.States[i])
	}
	return all
}

// stateName is "now", then the letters of the options.
func stateName(i int) string {
	if i == 0 {
		return text.NowName
	}
	return letterOf(i - 1)
}

// row is one state of the room; changes are relative to the room as it is.
func (w *Report) row(name string, v *whatif.State) []string {
	now := &w.Result.Now
	change, low, floor := "", "", ""
	if v != now {
		change = unit.Decibels(v.Judgement.Spread() - now.Judgement.Spread())
		low = unit.Decibels(v.LowEnd - now.LowEnd)
		floor = w.Style.Area(v.Floor - now.Floor)
	}
	return []string{name, unit.Spread(v.Judgement.Spread()), change, low, unit.Seconds(v.MeanFall()), floor, w.weight(v), w.cost(v)}
}

// weight and cost are those of all treatments of a state.
func (w *Report) weight(v *whatif.State) string {
	switch {
	case len(v.Project.Room.Treatments) == 0:
		return w.Style.Mass(0)
	case v.Build == nil:
		return unit.Unknown
	}
	return w.Style.Mass(v.Build.Weight().Typical)
}

func (w *Report) cost(v *whatif.State) string {
	switch {
	case len(v.Project.Room.Treatments) == 0:
		return "0"
	case v.Build == nil:
		return unit.Unknown
	case w.Project.Stock == nil:
		return "no prices"
	}
	sum, unpriced := v.Build.Cost()
	amount := unit.Decimal(sum.Min, 0)
	if sum.Max > sum.Min {
		amount += "–" + unit.Decimal(sum.Max, 0)
	}
	amount = strings.TrimSpace(amount + " " + text.Printable(w.Project.Stock.Currency))
	if unpriced > 0 {
		amount += fmt.Sprintf("\n+ %d without price", unpriced)
	}
	return amount
}

// decayTable is the time to decay by 20 dB and by 30 dB in each third octave.
func (w *Report) decayTable() text.Table {
	t := text.Table{
		Caption: "Time in ms to decay by 20 dB and by 30 dB, by third octave in Hz, from straight lines that begin 5 dB down. " + text.DecayKey,
		Head:    []string{""},
	}
	for _, d := range w.Result.Now.Decay {
		t.Head = append(t.Head, fmt.Sprintf("%g", d.Band))
	}
	for i, v := range w.states() {
		for _, down := range []string{"20", "30"} {
			row := []string{stateName(i) + ", " + down + " dB"}
			for _, d := range v.Decay {
				fall := d.Fall20
				if down == "30" {
					fall = d.Fall30
				}
				row = append(row, text.DecayCell(d, fall))
			}
			t.Rows = append(t.Rows, row)
		}
	}
	return t
}

// slower is the least ratio by which a decay must take longer to be reported.
const slower = 1.15

// changes lists what an option mends and what it makes worse.
func (w *Report) changes(i int) []string {
	v, now := &w.Result.States[i], &w.Result.Now
	var lines []string
	add := func(what string, list []whatif.DipChange) {
		for _, d := range list {
			lines = append(lines, fmt.Sprintf("%s at %s, %s: from %s to %s relative to the mean", what,
				unit.Frequency(d.Frequency), text.ChannelText(d.Channel), unit.Decibels(d.Before), unit.Decibels(d.After)))
		}
	}
	add("better: the dip", v.Cured)
	add("worse: a dip", v.Created)
	if d := v.Judgement.Spread() - now.Judgement.Spread(); d >= 0.5 {
		lines = append(lines, "worse: the spread grows by "+unit.Difference(d))
	}
	lines = append(lines, slowerLines(now.Decay, v.Decay)...)
	if d := v.LowEnd - now.LowEnd; d <= -1 {
		lines = append(lines, fmt.Sprintf("worse: the lowest octave is %s weaker", unit.Difference(-d)))
	}
	for _, b := range v.Breaches {
		lines = append(lines, "worse: the present places break a rule: "+text.RuleText(b))
	}
	if len(lines) == 0 {
		lines = append(lines, "no dip changes by 3 dB or more, and nothing else gets noticeably worse")
	}
	return lines
}

// slowerLines lists where the sound decays more slowly than before. Bands whose decay stays
// inaudible share one line.
func slowerLines(before, after []response.Decay) []string {
	var lines, inaudible []string
	for b, d := range after {
		was := before[b].Fall20
		switch {
		case was == 0 || !d.Resolved() || d.Fall20 <= slower*was:
		case d.Slow() && before[b].Slow(): // neither is known
		case 3*d.Fall20 <= response.Audible(d.Band):
			inaudible = append(inaudible, fmt.Sprintf("%g", d.Band))
		case d.Slow():
			lines = append(lines, fmt.Sprintf("worse: at %g Hz the sound takes 0.9 s or longer to decay by 20 dB instead of %s", d.Band, milliseconds(was)))
		default:
			lines = append(lines, fmt.Sprintf("worse: at %g Hz the sound takes %s to decay by 20 dB instead of %s", d.Band, milliseconds(d.Fall20), milliseconds(was)))
		}
	}
	if len(inaudible) > 0 {
		lines = append(lines, fmt.Sprintf("slower, but still inaudible: the decay at %s Hz", strings.Join(inaudible, ", ")))
	}
	return lines
}

func milliseconds(s float64) string { return unit.Decimal(1000*s, 0) + " ms" }

// breachLines names the rules that the present places break.
func (w *Report) breachLines() []string { return text.PresentBreaches(w.Project, w.Style) }

// warnings returns the given warnings of the project and those of all states once.
func (w *Report) warnings(project []model.Warning) []model.Warning {
	lists := [][]model.Warning{project}
	for _, v := range w.states() {
		lists = append(lists, v.Warnings)
	}
	return text.UniqueWarnings(lists...)
}

// shownWarnings are the warnings beside the rules that breachLines names.
func (w *Report) shownWarnings() []model.Warning { return w.warnings(w.Project.Warnings) }

// limits says what the figures are and how far to trust them.
func (w *Report) limits() []string {
	lines := []string{
		text.Trust(w.Result.Engine, ""),
		"\"Low end\" is the change in mean level of both speakers together over the lowest octave of the goal's band.",
		"\"20 dB decay\" is the mean over third octaves from 31.5 to 250 Hz with left and right alone together. " +
			"Decays too fast for the filter count as the filter's own, and decays of 0.9 s or longer, or unknown ones, as 1 s.",
		"\"Floor\" is the extra floor area that the pieces take. Weight and cost cover all treatments of the room, frames included; stock you already have is not bought again.",
		"All figures are predicted, not measured. The flow resistivity of wool may be 30 % above or below its nominal value.",
	}
	if w.Result.Now.Modes == nil {
		lines = append(lines, "Decay of single modes is known only if the room is a plain box in every state; here the third octaves stand for it.")
	}
	return lines
}

package report

import (
	"fmt"
	"strings"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize"
)

// WhatIf is a comparison of options with what is shown with it, for [WhatIfText],
// [WhatIfPage], [WhatIfJSON] and [WhatIfCSV].
type WhatIf struct {
	Project *model.Project
	Result  *optimize.WhatIf
	Style   Style
	Run     Run
}

// WhatIfText returns a comparison of options as text for a terminal.
func WhatIfText(w WhatIf) string {
	var b strings.Builder
	b.WriteString(roomLine(w.Project, w.Style) + "\n\n")
	b.WriteString(wrap(w.headline()+w.placesLine(), columns, "") + "\n\n")
	for i := range w.Result.Variants {
		b.WriteString(wrap(w.title(i), columns, "   ") + "\n")
	}
	writeTable(&b, w.figuresTable())
	writeTable(&b, w.decayTable())
	for _, t := range w.moreTables() {
		writeTable(&b, t.Table)
	}
	for i := range w.Result.Variants {
		writeList(&b, "What "+letterOf(i)+" changes", w.changes(i))
	}
	writeList(&b, "How far to trust it", w.limits())
	writeList(&b, "Cautions", cautionLines(absorberCautions(w.Style)))
	writeList(&b, "The present places break these rules", w.breachLines())
	writeWarnings(&b, w.shownWarnings())
	return b.String()
}

// letterOf names an option: A, B, ...
func letterOf(i int) string { return strings.ToUpper(letterName(i)) }

// title is an option's letter and name.
func (w *WhatIf) title(i int) string {
	return letterOf(i) + ": " + printable(w.Result.Variants[i].Name)
}

// called is an option's letter and name, for a sentence.
func (w *WhatIf) called(i int) string {
	return fmt.Sprintf("%s (%s)", letterOf(i), printable(w.Result.Variants[i].Name))
}

// headline says which option evens out the bass most, and whether the gain is noticeable.
func (w *WhatIf) headline() string {
	r, best := w.Result, -1
	for i := range r.Variants {
		if best < 0 || r.Variants[i].Judgement.Spread() < r.Variants[best].Judgement.Spread() {
			best = i
		}
	}
	now := r.Now.Judgement.Spread()
	if best < 0 {
		return fmt.Sprintf("The spread is now %s (%v).", Spread(now), r.Goal)
	}
	spread := r.Variants[best].Judgement.Spread()
	if now-spread < noticeable {
		return fmt.Sprintf("None of these evens out the bass by 1 dB with everything in its present place: %s now, %s at best, with %s (%v). Look at the decay as well.",
			Spread(now), Spread(spread), w.called(best), r.Goal)
	}
	text := fmt.Sprintf("With everything in its present place, %s evens out the bass most: from %s to %s (%v)", w.called(best), Spread(now), Spread(spread), r.Goal)
	if r.Variants[best].MeanFall() > 1.05*r.Now.MeanFall() {
		text += ", but the sound decays more slowly with it"
	}
	return text + "."
}

// figuresTable has a row for the room as it is and one for each option.
func (w *WhatIf) figuresTable() table {
	t := table{
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
func (w *WhatIf) states() []*optimize.Variant {
	all := []*optimize.Variant{&w.Result.Now}
	for i := range w.Result.Variants {
		all = append(all, &w.Result.Variants[i])
	}
	return all
}

// stateName is "now", then the letters of the options.
func stateName(i int) string {
	if i == 0 {
		return nowName
	}
	return letterOf(i - 1)
}

// row is one state of the room; changes are relative to the room as it is.
func (w *WhatIf) row(name string, v *optimize.Variant) []string {
	now := &w.Result.Now
	change, low, floor := "", "", ""
	if v != now {
		change = Decibels(v.Judgement.Spread() - now.Judgement.Spread())
		low = Decibels(v.LowEnd - now.LowEnd)
		floor = w.Style.Area(v.Floor - now.Floor)
	}
	return []string{name, Spread(v.Judgement.Spread()), change, low, Seconds(v.MeanFall()), floor, w.weight(v), w.cost(v)}
}

// weight and cost are those of all treatments of a state.
func (w *WhatIf) weight(v *optimize.Variant) string {
	switch {
	case len(v.Project.Room.Treatments) == 0:
		return w.Style.mass(0)
	case v.Build == nil:
		return unknown
	}
	return w.Style.mass(v.Build.Weight().Typical)
}

func (w *WhatIf) cost(v *optimize.Variant) string {
	switch {
	case len(v.Project.Room.Treatments) == 0:
		return "0"
	case v.Build == nil:
		return unknown
	case w.Project.Stock == nil:
		return "no prices"
	}
	sum, unpriced := v.Build.Cost()
	amount := decimal(sum.Min, 0)
	if sum.Max > sum.Min {
		amount += "–" + decimal(sum.Max, 0)
	}
	amount = strings.TrimSpace(amount + " " + printable(w.Project.Stock.Currency))
	if unpriced > 0 {
		amount += fmt.Sprintf("\n+ %d without price", unpriced)
	}
	return amount
}

// decayTable is the time to decay by 20 dB and by 30 dB in each third octave.
func (w *WhatIf) decayTable() table {
	t := table{
		Caption: "Time in ms to decay by 20 dB and by 30 dB, by third octave in Hz, from straight lines that begin 5 dB down. " + decayKey,
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
				row = append(row, decayCell(d, fall))
			}
			t.Rows = append(t.Rows, row)
		}
	}
	return t
}

// slower is the least ratio by which a decay must take longer to be reported.
const slower = 1.15

// changes lists what an option mends and what it makes worse.
func (w *WhatIf) changes(i int) []string {
	v, now := &w.Result.Variants[i], &w.Result.Now
	var lines []string
	add := func(what string, list []optimize.DipChange) {
		for _, d := range list {
			lines = append(lines, fmt.Sprintf("%s at %s, %s: from %s to %s relative to the mean", what,
				Frequency(d.Frequency), channelText(d.Channel), Decibels(d.Before), Decibels(d.After)))
		}
	}
	add("better: the dip", v.Healed)
	add("worse: a dip", v.Made)
	if d := v.Judgement.Spread() - now.Judgement.Spread(); d >= 0.5 {
		lines = append(lines, "worse: the spread grows by "+Difference(d))
	}
	lines = append(lines, slowerLines(now.Decay, v.Decay)...)
	if d := v.LowEnd - now.LowEnd; d <= -1 {
		lines = append(lines, fmt.Sprintf("worse: the lowest octave is %s weaker", Difference(-d)))
	}
	for _, b := range v.Breaches {
		lines = append(lines, "worse: the present places break a rule: "+b)
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

func milliseconds(s float64) string { return decimal(1000*s, 0) + " ms" }

// breachLines names the rules that the present places break.
func (w *WhatIf) breachLines() []string { return presentBreaches(w.Project, w.Style) }

// warnings returns the warnings of all states once.
func (w *WhatIf) warnings() []model.Warning {
	lists := [][]model.Warning{w.Project.Warnings}
	for _, v := range w.states() {
		lists = append(lists, v.Warnings)
	}
	return uniqueWarnings(lists...)
}

// shownWarnings are the warnings without the rules that breachLines names.
func (w *WhatIf) shownWarnings() []model.Warning { return unlisted(w.warnings()) }

// limits says what the figures are and how far to trust them.
func (w *WhatIf) limits() []string {
	lines := []string{
		trust(w.Result.Engine, ""),
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

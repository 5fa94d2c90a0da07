package report

import (
	"fmt"
	"strings"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize"
)

// WhatIf is everything that is shown of a comparison of options.
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
	figures, decay := w.figuresTable(), w.decayTable()
	b.WriteString("\n" + wrap(figures.Caption, columns, "") + "\n" + figures.text())
	b.WriteString("\n" + wrap(decay.Caption, columns, "") + "\n" + decay.text())
	for _, t := range w.moreTables() {
		b.WriteString("\n" + wrap(t.Table.Caption, columns, "") + "\n" + t.Table.text())
	}
	for i := range w.Result.Variants {
		writeList(&b, "What "+letterOf(i)+" changes", w.changes(i))
	}
	writeList(&b, "How far to trust this", w.limits())
	writeList(&b, "Cautions", absorberCautionLines())
	writeWarnings(&b, w.doubts())
	return b.String()
}

// letterOf names an option: A, B, ...
func letterOf(i int) string { return strings.ToUpper(letterName(i)) }

// title is an option's letter and name.
func (w *WhatIf) title(i int) string {
	return letterOf(i) + ": " + printable(w.Result.Variants[i].Name)
}

// called is an option's letter with its name behind, for a sentence.
func (w *WhatIf) called(i int) string {
	return fmt.Sprintf("%s (%s)", letterOf(i), printable(w.Result.Variants[i].Name))
}

// headline says which option evens the bass out most, and whether it is worth a word.
func (w *WhatIf) headline() string {
	r, best := w.Result, -1
	for i := range r.Variants {
		if best < 0 || r.Variants[i].Judgement.Spread() < r.Variants[best].Judgement.Spread() {
			best = i
		}
	}
	now := r.Now.Judgement.Spread()
	if best < 0 {
		return fmt.Sprintf("As it stands the spread is %s (%v).", Spread(now), r.Goal)
	}
	spread := r.Variants[best].Judgement.Spread()
	if now-spread < noticeable {
		return fmt.Sprintf("None of these evens the bass out by 1 dB with the places as they stand: %s now, %s at best, with %s (%v). Look at the decay as well.",
			Spread(now), Spread(spread), w.called(best), r.Goal)
	}
	text := fmt.Sprintf("With the places as they stand %s evens the bass out most: from %s to %s (%v)", w.called(best), Spread(now), Spread(spread), r.Goal)
	if r.Variants[best].MeanFall() > 1.05*r.Now.MeanFall() {
		text += ", but the sound falls more slowly with it"
	}
	return text + "."
}

// figuresTable has a row for the room as it is and one for each option.
func (w *WhatIf) figuresTable() table {
	t := table{
		Caption: fmt.Sprintf("Places as they stand; spread %v, the worst of left, right and both", w.Result.Goal),
		Head:    []string{"", "spread", "change", "low end", "20 dB fall", "floor", "weight", "to buy"},
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

// row is one state of the room: what differs is against the room as it is.
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
		return "0 kg"
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
	text := decimal(sum.Min, 0)
	if sum.Max > sum.Min {
		text += " to " + decimal(sum.Max, 0)
	}
	text = strings.TrimSpace(text + " " + printable(w.Project.Stock.Currency))
	if unpriced > 0 {
		text += fmt.Sprintf("\n+ %d without price", unpriced)
	}
	return text
}

// decayTable is the time to fall by 20 dB in each third octave.
func (w *WhatIf) decayTable() table {
	t := table{
		Caption: "Time in ms to fall by 20 dB and by 30 dB, from the straight lines from 5 dB down, by third octaves in Hz. " +
			"In brackets: " + fallKey,
		Head: []string{""},
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
				row = append(row, fallText(d, fall))
			}
			t.Rows = append(t.Rows, row)
		}
	}
	return t
}

// fallKey explains what [fallText] writes.
const fallKey = "about as fast as the filter itself, so not to be told. \"slow\": 20 dB take 0.9 s or longer, which is all that can be read"

// fallText is a time to fall in ms.
func fallText(d response.Decay, fall float64) string {
	switch {
	case d.Slow():
		return "slow"
	case fall == 0:
		return unknown
	case !d.Resolved():
		return "(" + decimal(1000*fall, 0) + ")"
	}
	return decimal(1000*fall, 0)
}

// slower is by how much a fall must take longer to be told, as a ratio.
const slower = 1.15

// changes tells in lines what an option heals and what it makes worse.
func (w *WhatIf) changes(i int) []string {
	v, now := &w.Result.Variants[i], &w.Result.Now
	var lines []string
	tell := func(what string, list []optimize.DipChange) {
		for _, d := range list {
			lines = append(lines, fmt.Sprintf("%s at %s, %s: from %s to %s re the mean", what,
				Frequency(d.Frequency), channelText(d.Channel), Decibels(d.Before), Decibels(d.After)))
		}
	}
	tell("better: the dip", v.Healed)
	tell("worse: a dip", v.Made)
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
		lines = append(lines, "no dip changes by 3 dB or more, and nothing gets worse by enough to mention")
	}
	return lines
}

// slowerLines tells where the sound falls more slowly than before. What is still faster
// than the ear can tell is told in one line.
func slowerLines(before, after []response.Decay) []string {
	var lines, unheard []string
	for b, d := range after {
		was := before[b].Fall20
		switch {
		case was == 0 || !d.Resolved() || d.Fall20 <= slower*was:
		case d.Slow() && before[b].Slow(): // neither is known
		case 3*d.Fall20 <= response.Audible(d.Band):
			unheard = append(unheard, fmt.Sprintf("%g", d.Band))
		case d.Slow():
			lines = append(lines, fmt.Sprintf("worse: at %g Hz the fall by 20 dB takes 0.9 s or longer instead of %s", d.Band, milliseconds(was)))
		default:
			lines = append(lines, fmt.Sprintf("worse: at %g Hz the fall by 20 dB takes %s instead of %s", d.Band, milliseconds(d.Fall20), milliseconds(was)))
		}
	}
	if len(unheard) > 0 {
		lines = append(lines, fmt.Sprintf("slower, but still faster than the ear can tell: the fall at %s Hz", strings.Join(unheard, ", ")))
	}
	return lines
}

func milliseconds(s float64) string { return decimal(1000*s, 0) + " ms" }

// doubts returns the warnings of all states once.
func (w *WhatIf) doubts() []model.Warning {
	lists := [][]model.Warning{w.Project.Warnings}
	for _, v := range w.states() {
		lists = append(lists, v.Warnings)
	}
	return uniqueWarnings(lists...)
}

// limits says how far the figures reach and what they are.
func (w *WhatIf) limits() []string {
	lines := []string{
		trust(w.Result.Engine, ""),
		"Low end is the change of the mean level of both loudspeakers together over the lowest octave of the goal's band.",
		"The 20 dB fall in the table of options is the mean over third octaves from 31.5 to 250 Hz, left and right alone together; what is faster than the filter can tell counts as what it can just tell, what is slower than 0.9 s or not known as a second.",
		"Floor is what the pieces take more than now. Weight and what is to be bought are those of all treatments of the room, frames included; what is in hand is not bought again.",
		"Predicted, not measured. Wool may have 30 % more or less flow resistivity than it should.",
	}
	if w.Result.Now.Modes == nil {
		lines = append(lines, "The decay of each mode by itself is known only where the room is a plain box in every state; here it is told by third octaves.")
	}
	return lines
}

package whatif

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/whatif"
	"evenbass/report/card"
	"evenbass/report/html"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// Report is a comparison of options with what is shown with it, for [Text], [Page], [JSON] and [CSV].
type Report struct {
	Project *model.Project
	Result  *whatif.Comparison
	Moved   bool // speakers and seat stand where layout 1 of a plan puts them
	Full    bool // the text holds everything
	Style   unit.Style
	Run     html.Run
}

// Text returns a comparison of options as text for a terminal: what the best of them does, the
// cards and costs of up to four, and cautions. With Full set it holds everything.
func Text(w Report) string {
	var b strings.Builder
	b.WriteString(text.RoomLine(w.Project, w.Style) + "\n\n")
	b.WriteString(text.Wrap(w.headline()+w.placesLine(), text.Columns, "") + "\n\n")
	for i := range w.Result.States {
		b.WriteString(text.Wrap(w.title(i), text.Columns, "   ") + "\n")
	}
	shown := w.leading()
	if w.Full {
		shown = w.all()
	}
	for _, t := range w.cardTables(shown) {
		text.WriteTable(&b, t)
	}
	if left := w.unshown(shown); len(left) > 0 {
		b.WriteString("Not in this table, but with --full: " + text.And(left) + ".\n")
	}
	text.WriteTable(&b, w.costTable(stateName))
	if !w.Full {
		text.WriteList(&b, text.BreachesHeading, w.breachLines())
		b.WriteString("\n" + text.Wrap("Before you build: "+w.cautionTitles()+". What to do about each, decays by third octave, dips and caveats: --full; curves and plans: -o page.html", text.Columns, "") + "\n")
		return b.String()
	}
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

// cautionTitles names the dangers of building absorbers.
func (w *Report) cautionTitles() string {
	var titles []string
	for _, c := range text.AbsorberCautions(w.Style) {
		titles = append(titles, strings.ToLower(c.Title))
	}
	return strings.Join(titles, "; ")
}

// all lists all options by number.
func (w *Report) all() []int {
	list := make([]int, len(w.Result.States))
	for i := range list {
		list[i] = i
	}
	return list
}

// optionsAcross is how many options one table holds beside the room as it is.
const optionsAcross = 4

// leading returns the options that one table holds, in their order: first those that no other
// option equals in some figure, then those of least spread.
func (w *Report) leading() []int {
	list := w.all()
	slices.SortStableFunc(list, func(i, j int) int {
		return cmp.Compare(w.Result.States[i].Card.Spread, w.Result.States[j].Card.Spread)
	})
	leading := slices.DeleteFunc(slices.Clone(list), func(i int) bool { return !w.leads(i) })
	list = append(leading, slices.DeleteFunc(list, w.leads)...)
	list = list[:min(optionsAcross, len(list))]
	slices.Sort(list)
	return list
}

// leads reports whether some figure of an option is better than that of every other option.
func (w *Report) leads(i int) bool {
	return slices.ContainsFunc(response.FigureList[:], func(f response.Figure) bool {
		for j, other := range w.Result.States {
			against := w.Result.States[i].Card.Against(other.Card.Card, response.Resolution{})
			if j != i && against[f].Mark != response.Better {
				return false
			}
		}
		return len(w.Result.States) > 1
	})
}

// unshown returns the letters of the options that are not in a list.
func (w *Report) unshown(list []int) []string {
	var letters []string
	for _, i := range w.all() {
		if !slices.Contains(list, i) {
			letters = append(letters, letterOf(i))
		}
	}
	return letters
}

// state is an option, or the room as it is for -1, with what is told of its card.
func (w *Report) state(i int) card.State {
	if i < 0 {
		return card.State{Name: text.NowName, Card: w.Result.Now.Card}
	}
	return card.State{Name: letterOf(i), Card: w.Result.States[i].Card}
}

// cardTables compares options with the room as it is, a few at a time.
func (w *Report) cardTables(options []int) []text.Table {
	var tables []text.Table
	for first := 0; first == 0 || first < len(options); first += optionsAcross {
		states := []card.State{w.state(-1)}
		for _, i := range options[first:min(first+optionsAcross, len(options))] {
			states = append(states, w.state(i))
		}
		t := card.Table(states, true, w.Style)
		t.Caption = card.Caption(text.Sentence(w.standing()), states, true)
		tables = append(tables, t)
	}
	return tables
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

// standing says where speakers and seat are.
func (w *Report) standing() string {
	if w.Moved {
		return "speakers and seat moved to layout 1"
	}
	return "everything in its present place"
}

// headline says what the best option does, what it costs in other figures and in money.
func (w *Report) headline() string {
	r, best := w.Result, w.bestOption()
	if len(r.States) == 0 {
		return fmt.Sprintf("The spread is now %s (%v).", unit.Spread(r.Now.Card.Spread), r.Goal)
	}
	if best < 0 {
		return fmt.Sprintf("With %s, none of these makes the bass better by as much as can be told and heard (spread %s now, %v).",
			w.standing(), unit.Spread(r.Now.Card.Spread), r.Goal)
	}
	now, after := w.state(-1), w.state(best)
	words := "With " + w.standing() + ", " + card.Headline(w.called(best), &now, &after)
	if price := w.cost(&r.States[best]); price != "0" && price != unit.Unknown && price != "no prices" {
		words += " What all treatments need costs " + price + "."
	}
	return words
}

// bestOption returns the option that lowers the spread most, of those that lower it by more than
// can be told; without one, that with the most figures better than worse; -1 if none helps.
func (w *Report) bestOption() int {
	now := w.state(-1)
	best, most := -1, 0
	for i := range w.Result.States {
		s := w.state(i)
		if s.Card.Compare(&now.Card)[response.SpreadFigure].Mark == response.Better && (best < 0 || s.Card.Spread < w.Result.States[best].Card.Spread) {
			best = i
		}
	}
	for i := range w.Result.States {
		s := w.state(i)
		if gain := len(card.Better(&now, &s)) - len(card.Worse(&now, &s)); (best < 0 || most > 0) && gain > most {
			best, most = i, gain
		}
	}
	return best
}

// costTable says what each state takes: floor, weight and money. name names the states, by number.
func (w *Report) costTable(name func(i int) string) text.Table {
	t := text.Table{Caption: "What it takes", Head: []string{"", "more floor", "weight", "to buy"}}
	for i, v := range w.states() {
		floor := ""
		if i > 0 {
			floor = w.Style.Area(v.Floor - w.Result.Now.Floor)
		}
		t.Rows = append(t.Rows, []string{name(i), floor, w.weight(v), w.cost(v)})
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

// stateTitle is "now", then the letters and names of the options.
func (w *Report) stateTitle(i int) string {
	if i == 0 {
		return text.NowName
	}
	return w.title(i - 1)
}

// stateName is "now", then the letters of the options.
func stateName(i int) string {
	if i == 0 {
		return text.NowName
	}
	return letterOf(i - 1)
}

// weight and cost are those of all treatments of a state.
func (w *Report) weight(v *whatif.State) string {
	switch {
	case len(v.Project.Room.Treatments) == len(v.Project.Room.Furniture()):
		return w.Style.Mass(0)
	case v.Build == nil:
		return unit.Unknown
	}
	return w.Style.Mass(v.Build.Weight().Typical)
}

func (w *Report) cost(v *whatif.State) string {
	switch {
	case len(v.Project.Room.Treatments) == len(v.Project.Room.Furniture()):
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
		amount += " + " + text.Count(unpriced, "unpriced item")
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
	before, after := w.state(-1), w.state(i)
	for _, clause := range card.Better(&before, &after) {
		lines = append(lines, "better: "+clause)
	}
	for _, clause := range card.Worse(&before, &after) {
		lines = append(lines, "worse: "+clause)
	}
	lines = append(lines, slowerLines(now.Decay, v.Decay)...)
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
		"\"20 dB decay\" is that of left and right alone together, over the third octaves within the band. " +
			"Decays too fast for the filter count as the filter's own, and decays of 0.9 s or longer, or unknown ones, as 1 s.",
		"\"More floor\" is the extra floor area that the pieces take. Weight and cost cover all treatments of the room, frames included; stock you already have is not bought again.",
		"All figures are predicted, not measured. The flow resistivity of wool may be 30 % above or below its nominal value.",
	}
	if w.Result.Now.Modes == nil {
		lines = append(lines, "Decay of single modes is known only if the room is a plain box in every state; here the third octaves stand for it.")
	}
	return lines
}

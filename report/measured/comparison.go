package measured

import (
	"fmt"
	"strings"

	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/model/measure/analysis"
	"evenbass/model/measure/comparison"
	"evenbass/model/response"
	"evenbass/report/card"
	"evenbass/report/html"
	"evenbass/report/present"
	"evenbass/report/recording"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// Comparison is two states of a seat, to be shown.
type Comparison struct {
	Room   string // the room's name
	Names  [2]string
	Result *comparison.Comparison
	Engine string // of what is predicted, in words; "" if nothing is
	// PredictedChange is what was predicted of the change between two measurements; nil if it was not asked for.
	PredictedChange *comparison.PredictedChange
	Style           unit.Style
	Run             html.Run
}

func (r Comparison) abs(v float64) model.Level { return model.Level(max(v, -v)) }

// speed returns the speed of sound of what was measured.
func (r Comparison) speed() float64 {
	for _, a := range []*analysis.Analysis{r.Result.After, r.Result.Before} {
		if a.Measurement != nil {
			return a.Measurement.Air().Speed
		}
	}
	return model.AirAt(0).Speed
}

// isPredicted reports whether a side is a prediction.
func isPredicted(a *analysis.Analysis) bool { return a.Measurement == nil }

// isInvented reports whether a side is a measurement that nobody made.
func isInvented(a *analysis.Analysis) bool { return a.Measurement != nil && a.Measurement.Invented() }

// origin is the word for what is no prediction: measured, or invented where nobody measured any of it.
func (r Comparison) origin() string {
	list := r.measurements()
	return present.Origin(len(list) > 0 && recording.InventedAll(list...))
}

// heads are what the two are called in tables and beside curves.
func (r Comparison) heads() [2]string {
	words := map[bool]string{true: "predicted", false: r.origin()}
	a, b := isPredicted(r.Result.Before), isPredicted(r.Result.After)
	if a == b {
		return [2]string{"before", "after"}
	}
	return [2]string{words[a], words[b]}
}

// legend says which is which.
func (r Comparison) legend() string {
	h := r.heads()
	var parts []string
	for i, a := range []*analysis.Analysis{r.Result.Before, r.Result.After} {
		name := r.Names[i]
		if isInvented(a) && h[i] != "invented" && !strings.Contains(name, "invented") {
			name += " (invented)"
		}
		if name != h[i] {
			parts = append(parts, text.Sentence(h[i])+": "+name)
		}
	}
	return strings.Join(parts, ". ") + "."
}

// headline says what came of it.
func (r Comparison) headline() string {
	c := r.Result
	if !c.Fair() {
		return "No fair comparison: two different things were " + r.origin() + "."
	}
	better, worse := c.Counts()
	if isPredicted(c.Before) != isPredicted(c.After) {
		return r.agreement()
	}
	spread := c.Figures[response.SpreadFigure]
	figures := fmt.Sprintf(" The spread was %s and is %s (%v).", unit.Spread(model.Level(spread.Before)), unit.Spread(model.Level(spread.After)), c.Goal)
	switch {
	case better == 0 && worse == 0:
		return "No difference that counts." + figures
	case worse == 0:
		return fmt.Sprintf("Better: %s improved, none got worse.", unit.Plural(better, "figure")) + figures
	case better == 0:
		return fmt.Sprintf("Worse: %s got worse, none improved.", unit.Plural(worse, "figure")) + figures
	}
	return fmt.Sprintf("Mixed: %s improved, %d got worse.", unit.Plural(better, "figure"), worse) + figures
}

// agreement says how well a prediction meets a measurement.
func (r Comparison) agreement() string {
	most := r.Result.Most
	return present.NewAgreement(r.Result).Sentence(fmt.Sprintf(", by %s at most, at %s", unit.Difference(r.abs(float64(most.Level))), unit.Frequency(most.Frequency)))
}

// worseLines names the figures that got worse; of a prediction against a measurement, none.
func (r Comparison) worseLines() []string {
	if isPredicted(r.Result.Before) != isPredicted(r.Result.After) {
		return nil
	}
	var lines []string
	for _, f := range response.FigureList {
		if change := r.Result.Figures[f]; change.Known && change.Mark == response.Worse {
			lines = append(lines, fmt.Sprintf("Worse: %s, was %s, is %s.", card.Names[f], inline(r.Result.Before.Card, f), inline(r.Result.After.Card, f)))
		}
	}
	return lines
}

// fairLines lists the objections, or says that there are none.
func (r Comparison) fairLines() []string {
	var lines []string
	for _, o := range r.Result.Objections {
		lines = append(lines, r.objectionText(o))
	}
	if len(lines) == 0 {
		return []string{"The comparison is fair as far as the data tell: same speaker, seat, place and temperature."}
	}
	return lines
}

// cardTable holds the cards against each other.
func (r Comparison) cardTable() text.Table {
	c := r.Result
	t := text.Table{
		Caption: fmt.Sprintf("Figures (%v). A change counts if it is larger than what a repeated measurement shows and a listener notices, for instance 1 dB in spread.", c.Goal),
		Head:    []string{"", r.heads()[0], r.heads()[1], ""}, Align: "lrrl",
	}
	if isPredicted(c.Before) != isPredicted(c.After) {
		t.Caption = fmt.Sprintf("Figures (%v). Two agree unless they differ by more than a repeated measurement shows and a listener notices, for instance 1 dB in spread.", c.Goal)
	}
	if isPredicted(c.Before) && isPredicted(c.After) {
		t.Caption = fmt.Sprintf("Figures (%v).", c.Goal)
	}
	for _, f := range response.FigureList {
		change := c.Figures[f]
		mark := change.Mark.String()
		if isPredicted(c.Before) != isPredicted(c.After) {
			mark = map[bool]string{true: "agrees", false: "differs"}[change.Mark == response.NoDifference]
		}
		if !change.Known {
			mark = ""
		}
		t.Rows = append(t.Rows, []string{card.Names[f], inline(c.Before.Card, f), inline(c.After.Card, f), mark})
	}
	return t
}

// inline writes a figure on one line.
func inline(c response.Card, f response.Figure) string {
	return strings.Replace(strings.Replace(card.Cell(c, f), "\nat ", " at ", 1), "\n", " at ", 1)
}

// ComparisonText returns a comparison for a terminal.
func ComparisonText(r Comparison) string {
	var b strings.Builder
	b.WriteString(text.Wrap(r.headline(), text.Columns, "") + "\n")
	b.WriteString(text.Wrap(r.legend(), text.Columns, "") + "\n")
	text.WriteTable(&b, r.cardTable())
	text.WriteList(&b, "Is it fair?", r.fairLines())
	if r.PredictedChange != nil {
		b.WriteString("\n" + text.Wrap("Was the change as predicted? "+r.predictedChangeLine(), text.Columns, "") + "\n")
		text.WriteTable(&b, r.predictedChangeTable())
	}
	text.WriteList(&b, "Notes in the files", recording.Notes(r.measurements()...))
	if r.Engine != "" {
		text.WriteList(&b, "How far to trust the prediction", []string{r.Engine})
	}
	return b.String()
}

// measurements returns what was measured of the two.
func (r Comparison) measurements() []*measure.Measurement {
	var list []*measure.Measurement
	for _, a := range []*analysis.Analysis{r.Result.Before, r.Result.After} {
		if a.Measurement != nil {
			list = append(list, a.Measurement)
		}
	}
	return list
}

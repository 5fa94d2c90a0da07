package place

import (
	"fmt"
	"strings"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/cause"
	"evenbass/optimize/score"
	"evenbass/report/card"
	"evenbass/report/present"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// Text returns the result of a search as text for a terminal, at most 100 columns wide, ending in
// a line break: what was found, where to put the tape, the cards, and the first step. With Full set
// it holds everything that is known. It says so if there are no layouts.
func Text(in Report) string {
	r, p, s := in.Result, in.Project, in.Style
	var b strings.Builder
	b.WriteString(text.RoomLine(p, s) + "\n\n")
	if len(r.Candidates) == 0 {
		b.WriteString("No layout was found.\n")
		text.WriteWarnings(&b, text.UniqueWarnings(p.Warnings, r.Warnings), s)
		return b.String()
	}
	v := newVerdict(&in)
	b.WriteString(text.Wrap(v.Headline, text.Columns, "") + "\n")
	if in.Full {
		b.WriteString(text.Wrap(v.Meaning, text.Columns, "") + "\n")
	}
	b.WriteString(text.Wrap(v.Action, text.Columns, "") + "\n")
	marks := marksTable(&r.Candidates[0], p, s)
	b.WriteString("\n" + marks.Caption + "\n" + marks.Text())
	if in.Full {
		writeAll(&b, &in, &v)
		return b.String()
	}
	cards := cardsTable(&in)
	text.WriteTable(&b, cards)
	if lines := stepLines(&in); len(lines) > 0 {
		b.WriteString("\n" + text.Wrap("First step: "+lines[0], text.Columns, "") + "\n")
	}
	if thumb := thumbText(&in); thumb != "" {
		b.WriteString("\n" + text.Wrap(thumb, text.Columns, "") + "\n")
	}
	if in.Present != nil {
		for _, line := range []string{in.present().Headline(), present.NextLine(in.Present.Next, s)} {
			b.WriteString("\n" + text.Wrap(line, text.Columns, "") + "\n")
		}
	}
	if n := len(in.AllWarnings()); n > 0 {
		fmt.Fprintf(&b, "\n%s and all other figures: --full; drawings and maps: -o page.html\n", text.Count(n, "caveat"))
	}
	return b.String()
}

// writeAll writes all that comes after the marks.
func writeAll(b *strings.Builder, in *Report, v *verdict) {
	r, s := in.Result, in.Style
	text.WriteList(b, "From where things are now", moveLines(&r.Candidates[0], r.Now, s))
	writeSteps(b, stepLines(in))
	present.WriteText(b, in.present())
	layouts := layoutsTable(in)
	b.WriteString("\n" + text.Wrap(layouts.Caption, text.Columns, "") + "\n" + layouts.Text())
	writeSeats(b, r, s)
	writeStanding(b, in)
	writeFacing(b, r, s)
	if r.Now != nil {
		text.WriteList(b, text.BreachesHeading, text.BreachLines(r.Now.Breaches, s))
	}
	b.WriteString("\n" + text.Wrap(v.Trust, text.Columns, "") + "\n")
	text.WriteWarnings(b, in.AllWarnings(), s)
	fmt.Fprintf(b, "\n%d layouts tried, seed %d, engine %s; %s.\n", r.Evaluations, r.Seed, r.Engine.Kind, r.Stopped)
}

// Prediction is one layout as an engine predicts it, for [PredictionText].
type Prediction struct {
	Project  *model.Project
	Engine   model.EngineInfo
	Why      string // why that one was chosen, one clause; may be empty
	Title    string // "as it stands now"
	Layout   *score.Candidate
	Faults   []cause.Dip // worst first
	Modes    []Mode
	Warnings []model.Warning // beyond those of the project
}

// PredictionText returns what is predicted for one layout as text for a terminal:
// the figures of each channel, the worst faults with their causes, the modes up
// to 120 Hz.
func PredictionText(f Prediction, s unit.Style) string {
	var b strings.Builder
	j := &f.Layout.Judgement
	fmt.Fprintf(&b, "%s\n\n", text.RoomLine(f.Project, s))
	fmt.Fprintf(&b, "%s: %s (%v; worst of left, right and both: %v)\n\n",
		text.Sentence(f.Title), unit.Spread(j.Spread()), j.Figures[j.Worst].Goal, j.Worst)
	t := channelsTable(j)
	b.WriteString(t.Text())
	cards := card.Table([]card.State{card.Of(text.NowName, f.Layout, 0, nil)}, false, s)
	text.WriteTable(&b, cards)
	if wallsMatter(f.Layout) {
		fmt.Fprintf(&b, "\nWith walls that absorb less or more than usual the spread is %s.", wallRange(f.Layout, " "))
	}
	fmt.Fprintf(&b, "\nLeft and right differ by %s on average.\n", unit.Difference(j.Difference))
	text.WriteList(&b, "These places break rules of the room file", text.BreachLines(f.Layout.Breaches, s))
	b.WriteString("\nWorst dips and their causes\n")
	for i, fault := range f.Faults {
		fmt.Fprintf(&b, "%d. %s\n", i+1, text.Wrap(faultText(fault.Feature), text.Columns-3, "   "))
		fmt.Fprintf(&b, "   %s\n", text.Wrap(whyText(fault, s), text.Columns-3, "   "))
	}
	if len(f.Faults) == 0 {
		b.WriteString("none\n")
	}
	if len(f.Modes) > 0 {
		modes := modesTable(f.Modes, tableModes)
		b.WriteString("\n" + modes.Caption + "\n" + modes.Text())
	}
	b.WriteString("\n" + text.Wrap(text.Trust(f.Engine, f.Why), text.Columns, "") + "\n")
	text.WriteWarnings(&b, text.UniqueWarnings(f.Project.Warnings, f.Warnings), s)
	return b.String()
}

// tableModes is the frequency in Hz up to which modes are listed; above it modes
// overlap and single ones say little.
const tableModes = 120

// channelsTable compares left, right and both.
func channelsTable(j *response.Judgement) text.Table {
	t := text.Table{Head: []string{""}}
	rows := []struct {
		name string
		read func(f *response.Figures) string
	}{
		{"spread", func(f *response.Figures) string { return unit.Spread(f.Spread) }},
		{"standard deviation", func(f *response.Figures) string { return unit.Difference(f.Deviation) }},
		{"highest point", func(f *response.Figures) string { return inline(f.Highest) }},
		{"lowest point", func(f *response.Figures) string { return inline(f.Lowest) }},
		{"low-end reach of the room", func(f *response.Figures) string { return unit.ReachText(f.Reach) }},
	}
	for _, c := range response.Channels {
		t.Head = append(t.Head, c.String())
	}
	for _, r := range rows {
		row := []string{r.name}
		for _, c := range response.Channels {
			row = append(row, r.read(&j.Figures[c]))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func inline(e response.Extreme) string {
	return unit.Decibels(e.Level) + " at " + unit.Frequency(e.Frequency)
}

// faultText describes a dip or a peak: "dip at 64.2 Hz, left: 12.1 dB below the
// mean, 1/5 octave wide".
func faultText(f response.Feature) string {
	kind, side := "dip", "below"
	if f.Peak {
		kind = "peak"
	}
	if f.Level > 0 {
		side = "above"
	}
	return fmt.Sprintf("%s at %s, %s: %s %s the mean, %s wide",
		text.Sentence(kind), unit.Frequency(f.Frequency), text.ChannelText(f.Channel), unit.Difference(max(f.Level, -f.Level)), side, unit.Octaves(f.Width))
}

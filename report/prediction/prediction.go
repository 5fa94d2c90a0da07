package prediction

import (
	"fmt"
	"strings"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/cause"
	"evenbass/optimize/score"
	"evenbass/report/card"
	"evenbass/report/dip"
	"evenbass/report/room"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// Report is one layout as an engine predicts it, for [Text].
type Report struct {
	Project  *model.Project
	Engine   model.EngineInfo
	Why      string // why that one was chosen, one clause; may be empty
	Title    string // "as it stands now"
	Layout   *score.Candidate
	Faults   []cause.Dip // worst first
	Modes    []room.Mode
	Warnings []model.Warning // beyond those of the project
	Full     bool            // the text holds everything, not only what comes first
}

// Text returns what is predicted for one layout as text for a terminal, at most 100
// columns wide: the spread, the card, and the worst dips with the cause and the cure of the first.
// With Full set it also holds each channel, the modes and all caveats.
func Text(f Report, s unit.Style) string {
	var b strings.Builder
	j := &f.Layout.Judgement
	fmt.Fprintf(&b, "%s\n\n", text.RoomLine(f.Project, s))
	b.WriteString(text.Wrap(f.headline(), text.Columns, "") + "\n")
	if f.Full {
		t := channelsTable(j)
		b.WriteString("\n" + t.Text())
	}
	text.WriteTable(&b, card.Table([]card.State{card.Of(text.NowName, f.Layout, 0, nil)}, false, s))
	if f.Full {
		fmt.Fprintf(&b, "\nLeft and right differ by %s on average.\n", unit.Difference(j.Difference))
	}
	text.WriteList(&b, "These places break rules of the room file", text.BreachLines(f.Layout.Breaches, s))
	f.writeDips(&b, s)
	warnings := text.UniqueWarnings(f.Project.Warnings, f.Warnings)
	if !f.Full {
		text.WriteMore(&b, f.Engine.Kind, warnings, "each channel, each cause and the room modes: --full; better places: evenbass place", s)
		return b.String()
	}
	if len(f.Modes) > 0 {
		modes := room.ModesTable(f.Modes)
		b.WriteString("\n" + modes.Caption + "\n" + modes.Text())
	}
	b.WriteString("\n" + text.Wrap(text.Trust(f.Engine, f.Why), text.Columns, "") + "\n")
	text.WriteWarnings(&b, warnings, s)
	return b.String()
}

// headline says how even the bass is, and how far the walls may change that.
func (f *Report) headline() string {
	j := &f.Layout.Judgement
	words := fmt.Sprintf("%s: %s (%v; worst of left, right and both: %v)", text.Sentence(f.Title), unit.Spread(j.Spread()), j.Figures[j.Worst].Goal, j.Worst)
	if card.WallsMatter(f.Layout) {
		words += fmt.Sprintf(". With walls that absorb less or more than usual the spread is %s.", card.WallRange(f.Layout, " "))
	}
	return words
}

// writeDips lists the worst dips, all with their cause and cure if the text is full, else the first.
func (f *Report) writeDips(b *strings.Builder, s unit.Style) {
	b.WriteString("\nWorst dips and their causes\n")
	for i, fault := range f.Faults {
		fmt.Fprintf(b, "%d. %s\n", i+1, text.Wrap(dip.Text(fault.Feature), text.Columns-3, "   "))
		if f.Full || i == 0 {
			fmt.Fprintf(b, "   %s\n", text.Wrap(dip.Why(fault, s), text.Columns-3, "   "))
		}
	}
	if len(f.Faults) == 0 {
		b.WriteString("none\n")
	}
	if f.Full && len(f.Faults) > 0 {
		b.WriteString(text.Wrap(dip.WidthName+": "+dip.WidthTerm(f.Layout.Card.Goal), text.Columns, "") + "\n")
	}
}

// channelsTable compares left, right and both.
func channelsTable(j *response.Judgement) text.Table {
	t := text.Table{Head: []string{""}}
	rows := []struct {
		name string
		read func(f *response.Figures) string
	}{
		{"spread", func(f *response.Figures) string { return unit.Spread(f.Spread) }},
		{"standard deviation", func(f *response.Figures) string { return unit.Difference(f.Deviation) }},
		{"highest point", func(f *response.Figures) string { return text.PointText(f.Highest) }},
		{"lowest point", func(f *response.Figures) string { return text.PointText(f.Lowest) }},
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

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
}

// Text returns what is predicted for one layout as text for a terminal:
// the figures of each channel, the worst faults with their causes, the modes up
// to 120 Hz.
func Text(f Report, s unit.Style) string {
	var b strings.Builder
	j := &f.Layout.Judgement
	fmt.Fprintf(&b, "%s\n\n", text.RoomLine(f.Project, s))
	fmt.Fprintf(&b, "%s: %s (%v; worst of left, right and both: %v)\n\n",
		text.Sentence(f.Title), unit.Spread(j.Spread()), j.Figures[j.Worst].Goal, j.Worst)
	t := channelsTable(j)
	b.WriteString(t.Text())
	cards := card.Table([]card.State{card.Of(text.NowName, f.Layout, 0, nil)}, false, s)
	text.WriteTable(&b, cards)
	if card.WallsMatter(f.Layout) {
		fmt.Fprintf(&b, "\nWith walls that absorb less or more than usual the spread is %s.", card.WallRange(f.Layout, " "))
	}
	fmt.Fprintf(&b, "\nLeft and right differ by %s on average.\n", unit.Difference(j.Difference))
	text.WriteList(&b, "These places break rules of the room file", text.BreachLines(f.Layout.Breaches, s))
	b.WriteString("\nWorst dips and their causes\n")
	for i, fault := range f.Faults {
		fmt.Fprintf(&b, "%d. %s\n", i+1, text.Wrap(dip.Text(fault.Feature), text.Columns-3, "   "))
		fmt.Fprintf(&b, "   %s\n", text.Wrap(dip.Why(fault, s), text.Columns-3, "   "))
	}
	if len(f.Faults) == 0 {
		b.WriteString("none\n")
	}
	if len(f.Modes) > 0 {
		modes := room.ModesTable(f.Modes)
		b.WriteString("\n" + modes.Caption + "\n" + modes.Text())
	}
	b.WriteString("\n" + text.Wrap(text.Trust(f.Engine, f.Why), text.Columns, "") + "\n")
	text.WriteWarnings(&b, text.UniqueWarnings(f.Project.Warnings, f.Warnings), s)
	return b.String()
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

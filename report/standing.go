package report

import (
	"fmt"
	"strings"

	"evenbass/model"
	"evenbass/optimize"
)

// standingView is the page's part about what is not known.
type standingView struct {
	Text  string
	Table table
}

// newStandingView returns nil if nothing was drawn.
func newStandingView(in *Input) *standingView {
	if in.Stability == nil || in.Stability.Draws == 0 {
		return nil
	}
	return &standingView{standingText(in.Stability, in.Style), standingTable(in.Stability, in.Result.Goal)}
}

// standingText says how sure the first layout is of its place, and what was drawn.
func standingText(st *optimize.Standing, s Style) string {
	first := st.Layouts[0]
	text := fmt.Sprintf("Layout 1 stays first in %d of %d draws of what is not known", first.First, st.Draws)
	if st.Now != nil {
		text += fmt.Sprintf(", and is better than the present places in %d", first.Better)
	}
	if most := mostFirst(st); st.Layouts[most].First > first.First {
		text += fmt.Sprintf(". Layout %d is first more often, in %d: which of the two is better hangs on what is not known", most+1, st.Layouts[most].First)
	}
	walls, sizes, how := "what each wall and what is on it absorbs", "room and marks", ""
	if st.Interpolated {
		walls, sizes, how = "what each wall absorbs", "marks", between(st)
	}
	return text + fmt.Sprintf(". Drawn were: %s, between the least and the most that is likely, half of it for all walls together; %s"+
		"temperature ±%s °C; %s ±%s; woofers ±%s in height.%s All layouts meet the same draws.",
		walls, woolText(st), decimal(optimize.DrawnTemperature, 0), sizes, finely(optimize.DrawnTape, s), finely(optimize.DrawnWoofer, s), how)
}

// mostFirst returns the number of the layout that is first in the most draws, from 0.
func mostFirst(st *optimize.Standing) int {
	most := 0
	for i, l := range st.Layouts {
		if l.First > st.Layouts[most].First {
			most = i
		}
	}
	return most
}

// between says how draws of a room were made that takes long to solve.
func between(st *optimize.Standing) string {
	wool := ""
	if st.Wool {
		wool = " and all wool"
	}
	return " The size of the room was not drawn. The room was not solved anew for every draw: the draws lie between runs with each wall" + wool +
		" as they may be at least and at most, marks are moved in the room as it is typically, and another temperature shifts all frequencies."
}

// woolText says by how much wool was drawn, or nothing.
func woolText(st *optimize.Standing) string {
	if !st.Wool {
		return ""
	}
	return fmt.Sprintf("flow resistivity of all wool together, %s to %s of what it is said to be; ",
		decimal(1/optimize.DrawnWool, 1), decimal(optimize.DrawnWool, 1))
}

// finely writes a small length to the millimetre.
func finely(m float64, s Style) string { return s.join(decimal(100*m, 1)+" cm", FeetInches(m)) }

// standingTable lists every layout with how it does over the draws.
func standingTable(st *optimize.Standing, goal model.Goal) table {
	t := table{
		Caption: fmt.Sprintf("What %d draws make of each figure: 10 %% of them are below the range and 10 %% above (%v)", st.Draws, goal),
		Head:    []string{"", "first", "better than now", "spread", "lowest point", "low-end reach"},
	}
	add := func(name, first, better string, stand *optimize.Stand) {
		row := []string{name, first}
		if st.Now != nil {
			row = append(row, better)
		}
		t.Rows = append(t.Rows, append(row,
			fmt.Sprintf("±%s to %s", decimal(stand.Spread.Low, 1), Spread(model.Level(stand.Spread.High))),
			fmt.Sprintf("%s to %s", decimal(stand.Lowest.Low, 1), Decibels(model.Level(stand.Lowest.High))),
			reachRange(stand.Reach.Low, stand.Reach.High)))
	}
	if st.Now == nil {
		t.Head = append(t.Head[:2], t.Head[3:]...)
	} else {
		add(nowName, unknown, unknown, st.Now)
	}
	for i := range st.Layouts {
		stand := &st.Layouts[i]
		add(layoutName(i+1), fmt.Sprintf("%d of %d", stand.First, st.Draws), fmt.Sprintf("%d of %d", stand.Better, st.Draws), stand)
	}
	return t
}

// writeStanding writes the same for a terminal; nothing if nothing was drawn.
func writeStanding(b *strings.Builder, in *Input) {
	v := newStandingView(in)
	if v == nil {
		return
	}
	b.WriteString("\n" + wrap(v.Text, columns, "") + "\n\n" + wrap(v.Table.Caption, columns, "") + "\n" + v.Table.text())
}

// standingDoc is how a result stands over all draws; layouts are in their order.
type standingDoc struct {
	Draws   int        `json:"draws"`
	Between bool       `json:"interpolated,omitempty"` // between runs of the room, which keeps its size
	Now     *standDoc  `json:"now"`
	Layouts []standDoc `json:"layouts"`
}

// standDoc gives a figure as the tenth, the half and the nine tenths of the draws.
type standDoc struct {
	First  int      `json:"first"`
	Better int      `json:"better_than_now"`
	Spread [3]fixed `json:"spread_db_10_50_90"`
	Lowest [3]fixed `json:"lowest_db_10_50_90"`
	Reach  [3]fixed `json:"reach_hz_10_50_90"`
}

func newStandingDoc(st *optimize.Standing) *standingDoc {
	if st == nil {
		return nil
	}
	three := func(l optimize.Likely, places int) [3]fixed {
		return [3]fixed{{l.Low, places}, {l.Middle, places}, {l.High, places}}
	}
	of := func(s optimize.Stand) standDoc {
		return standDoc{s.First, s.Better, three(s.Spread, 2), three(s.Lowest, 2), three(s.Reach, 1)}
	}
	d := &standingDoc{Draws: st.Draws, Between: st.Interpolated}
	for _, s := range st.Layouts {
		d.Layouts = append(d.Layouts, of(s))
	}
	if st.Now != nil {
		now := of(*st.Now)
		d.Now = &now
	}
	return d
}

// reachRange writes from where to where a low-end reach goes.
func reachRange(low, high float64) string {
	from, to := reachText(low), reachText(high)
	if from == to {
		return from
	}
	return strings.TrimSuffix(from, " Hz") + " to " + to
}

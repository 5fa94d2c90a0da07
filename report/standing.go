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
func newStandingView(r *optimize.Result, s Style) *standingView {
	if r.Standing == nil || r.Standing.Draws == 0 {
		return nil
	}
	return &standingView{standingText(r, s), standingTable(r)}
}

// standingText says how sure the first layout is of its place, and what was drawn.
func standingText(r *optimize.Result, s Style) string {
	st := r.Standing
	first := st.Layouts[0]
	text := fmt.Sprintf("Layout 1 stays first in %d of %d draws of what is not known", first.First, st.Draws)
	if st.Now != nil {
		text += fmt.Sprintf(", and is better than the present places in %d", first.Better)
	}
	return text + fmt.Sprintf(". Drawn were: what each wall and what is on it absorbs, between the least and the most that is likely, half of it for "+
		"all walls together; temperature ±%s °C; room and marks ±%s; woofers ±%s in height. All layouts meet the same draws.",
		decimal(optimize.DrawnTemperature, 0), finely(optimize.DrawnTape, s), finely(optimize.DrawnWoofer, s))
}

// finely writes a small length to the millimetre.
func finely(m float64, s Style) string { return s.join(decimal(100*m, 1)+" cm", FeetInches(m)) }

// standingTable lists every layout with how it does over the draws.
func standingTable(r *optimize.Result) table {
	st := r.Standing
	t := table{
		Caption: fmt.Sprintf("What %d draws make of each figure: 10 %% of them are below the range and 10 %% above (%v)", st.Draws, r.Goal),
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
			fmt.Sprintf("%s to %s", decimal(stand.Reach.Low, 1), Frequency(stand.Reach.High))))
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
func writeStanding(b *strings.Builder, r *optimize.Result, s Style) {
	v := newStandingView(r, s)
	if v == nil {
		return
	}
	b.WriteString("\n" + wrap(v.Text, columns, "") + "\n\n" + wrap(v.Table.Caption, columns, "") + "\n" + v.Table.text())
}

// standingDoc is how a result stands over all draws; layouts are in their order.
type standingDoc struct {
	Draws   int        `json:"draws"`
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
	d := &standingDoc{Draws: st.Draws}
	for _, s := range st.Layouts {
		d.Layouts = append(d.Layouts, of(s))
	}
	if st.Now != nil {
		now := of(*st.Now)
		d.Now = &now
	}
	return d
}

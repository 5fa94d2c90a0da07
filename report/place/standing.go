package place

import (
	"fmt"
	"strings"

	"evenbass/model"
	"evenbass/optimize/uncertainty"
	"evenbass/report/data"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// standingView is the page's part about rank stability.
type standingView struct {
	Text  string
	Table text.Table
}

// newStandingView returns nil without trials.
func newStandingView(in *Report) *standingView {
	if in.Stability == nil || in.Stability.Trials == 0 {
		return nil
	}
	return &standingView{standingText(in.Stability, in.Style), standingTable(in.Stability, in.Result.Goal)}
}

// standingText says how often the first layout came first, and what the trials varied.
func standingText(st *uncertainty.Stability, s unit.Style) string {
	first := st.Layouts[0]
	text := fmt.Sprintf("Layout 1 came first in %d of %d trials with random walls, temperature and errors of the tape measure", first.First, st.Trials)
	if st.Now != nil {
		text += fmt.Sprintf(", and beat the present places in %d", first.Better)
	}
	if most := mostFirst(st); st.Layouts[most].First > first.First {
		text += fmt.Sprintf(". Layout %d came first more often, in %d: the uncertainties decide which of the two is better", most+1, st.Layouts[most].First)
	}
	walls, sizes, how := "what each wall and anything on it absorbs", "room sizes and marks", ""
	if st.Interpolated {
		walls, sizes, how = "what each wall absorbs", "marks", between(st)
	}
	return text + fmt.Sprintf(". Each trial varies %s, from the least to the most likely (half the wall error shared by all walls, half separate per wall); %s"+
		"temperature by ±%s; %s by ±%s; and the height of the woofers by ±%s.%s All layouts face the same trials.",
		walls, woolText(st), s.Degrees(uncertainty.TemperatureError), sizes, s.Fine(uncertainty.TapeError), s.Fine(uncertainty.WooferError), how)
}

// mostFirst returns the number of the layout that came first most often, from 0.
func mostFirst(st *uncertainty.Stability) int {
	most := 0
	for i, l := range st.Layouts {
		if l.First > st.Layouts[most].First {
			most = i
		}
	}
	return most
}

// between says how trials were made of a room that takes long to solve.
func between(st *uncertainty.Stability) string {
	wool := ""
	if st.Wool {
		wool = " and all wool"
	}
	return " The trials keep the size of the room. They are interpolated instead of solved one by one: between runs with each wall" + wool +
		" at its least and at its most, with marks moved in the typical room and frequencies shifted by temperature."
}

// woolText says by how much wool varied, or nothing.
func woolText(st *uncertainty.Stability) string {
	if !st.Wool {
		return ""
	}
	return fmt.Sprintf("the flow resistivity of all wool together, from %s to %s times the value in the room file; ",
		unit.Decimal(1/uncertainty.ResistivityRatio, 1), unit.Decimal(uncertainty.ResistivityRatio, 1))
}

// standingTable lists the figures of every layout over the trials.
func standingTable(st *uncertainty.Stability, goal model.Goal) text.Table {
	t := text.Table{
		Caption: fmt.Sprintf("Each figure over %d trials: 10 %% of them are below the range and 10 %% above (%v)", st.Trials, goal),
		Head:    []string{"", "first", "better than now", "spread", "lowest point", "low-end reach"},
	}
	add := func(name, first, better string, stand *uncertainty.Outcome) {
		row := []string{name, first}
		if st.Now != nil {
			row = append(row, better)
		}
		t.Rows = append(t.Rows, append(row,
			fmt.Sprintf("±%s to %s", unit.Decimal(stand.Spread.Low, 1), unit.Spread(model.Level(stand.Spread.High))),
			fmt.Sprintf("%s to %s", unit.Decimal(stand.Lowest.Low, 1), unit.Decibels(model.Level(stand.Lowest.High))),
			reachRange(stand.Reach.Low, stand.Reach.High)))
	}
	if st.Now == nil {
		t.Head = append(t.Head[:2], t.Head[3:]...)
	} else {
		add(text.NowName, unit.Unknown, unit.Unknown, st.Now)
	}
	for i := range st.Layouts {
		stand := &st.Layouts[i]
		add(text.LayoutName(i+1), fmt.Sprintf("%d of %d", stand.First, st.Trials), fmt.Sprintf("%d of %d", stand.Better, st.Trials), stand)
	}
	return t
}

// writeStanding writes the same for a terminal; nothing without trials.
func writeStanding(b *strings.Builder, in *Report) {
	v := newStandingView(in)
	if v == nil {
		return
	}
	b.WriteString("\n" + text.Wrap(v.Text, text.Columns, "") + "\n\n" + text.Wrap(v.Table.Caption, text.Columns, "") + "\n" + v.Table.Text())
}

// stabilityDoc holds the figures over all trials, the layouts in their order.
type stabilityDoc struct {
	Trials  int          `json:"trials"`
	Between bool         `json:"interpolated,omitempty"` // between runs of the room, which keeps its size
	Now     *outcomeDoc  `json:"now"`
	Layouts []outcomeDoc `json:"layouts"`
}

// outcomeDoc gives each figure as its 10th, 50th and 90th percentile over the trials.
type outcomeDoc struct {
	First  int           `json:"first"`
	Better int           `json:"better_than_now"`
	Spread [3]data.Fixed `json:"spread_db_10_50_90"`
	Lowest [3]data.Fixed `json:"lowest_db_10_50_90"`
	Reach  [3]data.Fixed `json:"reach_hz_10_50_90"`
}

func newStabilityDoc(st *uncertainty.Stability) *stabilityDoc {
	if st == nil {
		return nil
	}
	three := func(l uncertainty.Interval, places int) [3]data.Fixed {
		return [3]data.Fixed{data.Rounded(l.Low, places), data.Rounded(l.Median, places), data.Rounded(l.High, places)}
	}
	of := func(s uncertainty.Outcome) outcomeDoc {
		return outcomeDoc{s.First, s.Better, three(s.Spread, 2), three(s.Lowest, 2), three(s.Reach, 1)}
	}
	d := &stabilityDoc{Trials: st.Trials, Between: st.Interpolated}
	for _, s := range st.Layouts {
		d.Layouts = append(d.Layouts, of(s))
	}
	if st.Now != nil {
		now := of(*st.Now)
		d.Now = &now
	}
	return d
}

// reachRange writes a range of low-end reach.
func reachRange(low, high float64) string {
	from, to := unit.ReachText(low), unit.ReachText(high)
	if from == to {
		return from
	}
	return strings.TrimSuffix(from, " Hz") + " to " + to
}

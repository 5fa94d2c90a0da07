package card

import (
	"strings"
	"testing"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/score"
	"evenbass/optimize/uncertainty"
	"evenbass/report/unit"
)

// state is a state of which a prediction tells 0.5 dB of spread and of dips, and 20 ms of decay.
func state(name string, spread, dip model.Level, fall float64) State {
	return State{Name: name, Card: response.Ranged{
		Card: response.Card{
			Goal: model.Goal{From: 30, To: 300, Smoothing: 12}, Spread: spread, Deviation: min(5, 0.35*spread), Within: 0.7, LowOctave: -2,
			Dip:  response.Dip{Frequency: 64.2, Level: dip, Width: response.Width{Octaves: 0.2}},
			Fall: response.Fall{Mean: fall, Least: 0.05, Worst: response.Decay{Band: 63, Fall20: 2 * fall, Filter: 0.06}},
		},
		Least: response.Resolution{0.5, 0.5, 0.02, 0.5, 0.5, 0.02, 0.02},
	}}
}

// The headline says the gain, how sure it is and what it costs; what cannot be told is no gain,
// and what got worse is never printed like one.
func TestHeadline(t *testing.T) {
	t.Parallel()
	now := state("now", 14, -20, 0.4)
	for _, c := range []struct {
		after State
		want  string
	}{
		{state("1", 8, -12, 0.4), "Moving the chair evens out the bass from ±14.0 to ±8.0 dB."},
		{state("1", 13.2, -20.2, 0.4), "Moving the chair narrows the extremes slightly, from ±14.0 to ±13.2 dB."},
		{state("1", 8, -21.2, 0.4), "Moving the chair evens out the bass from ±14.0 to ±8.0 dB; but the deepest dip is 1.2 dB deeper."},
		{state("1", 13.8, -20.2, 0.41), "Moving the chair makes no difference that can be told or heard: the spread is ±14.0 dB now and ±13.8 dB after."},
		{state("1", 13.8, -20, 0.3), "Moving the chair leaves the spread about the same (±13.8 dB, ±14.0 dB now); the slowest 20 dB decay takes 600 ms at 63 Hz instead of 800 ms at 63 Hz and the mean 20 dB decay takes 300 ms instead of 400 ms."},
		{state("1", 16, -18, 0.4), "Moving the chair makes the bass less even, from ±14.0 to ±16.0 dB; the deepest dip is 2.0 dB shallower."},
	} {
		if got := Headline("moving the chair", &now, &c.after); got != c.want {
			t.Errorf("%q\nwant %q", got, c.want)
		}
	}
	sure := state("1", 8, -12, 0.4)
	sure.Trials, sure.Better = 100, 98
	for _, c := range []struct {
		sofa model.Level
		want string
	}{
		{21, "Moving the chair evens out the bass from ±14.0 to ±8.0 dB at the chair (all seats by weight: from ±14.6 to ±10.6 dB), better in 98 of 100 simulated variations of the room; but the spread at sofa grows by 4.0 dB."},
		{50, "Moving the chair helps only at the chair, from ±14.0 to ±8.0 dB; the seats together get worse, by weight from ±14.6 to ±16.4 dB; but the spread at sofa grows by 33.0 dB."},
	} {
		now.Seats, sure.Seats = seats(14, 17), seats(8, c.sofa)
		if got := Headline("moving the chair", &now, &sure); got != c.want {
			t.Errorf("%q\nwant %q", got, c.want)
		}
	}
}

// seats are a chair and a sofa with the spreads there.
func seats(chair, sofa model.Level) []score.SeatFigures {
	return []score.SeatFigures{{Name: "chair", Weight: 0.8, Spread: chair}, {Name: "sofa", Weight: 0.2, Spread: sofa}}
}

// Every known figure is a row with a mark behind each state but the one compared with; what is
// not known of any state is no row.
func TestTable(t *testing.T) {
	t.Parallel()
	now, after := state("now", 14, -20, 0), state("1", 8, -20.2, 0)
	after.Tolerance = score.Tolerance{Left: 0.05, Right: 0.04, Seat: 0.3, Limit: 0.3}
	table := Table([]State{now, after}, true, unit.Metric)
	got := table.Text()
	for _, want := range []string{"spread                          ±14.0 dB   ±8.0 dB ✓", "70 %      70 % ≈", "−20.0 dB  −20.2 dB ≈", "marks may be off by", "4 cm"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
	for _, not := range []string{"decay", "trials", "seats differ", "✗"} {
		if strings.Contains(got, not) {
			t.Errorf("%q in\n%s", not, got)
		}
	}
	alone := Table([]State{now}, false, unit.Metric)
	if text := alone.Text(); strings.ContainsAny(text, "✓✗≈") {
		t.Errorf("marks without anything to compare with:\n%s", text)
	}
}

// The document names every figure that CSV has too, marks what changed, and says null for what is
// not known.
func TestDoc(t *testing.T) {
	t.Parallel()
	now, after := state("now", 14, -20, 0.4), state("1", 8, -20.2, 0.5)
	c := Of("1", &score.Candidate{Card: after.Card}, 50, &uncertainty.Outcome{First: 20, Better: 49})
	d := NewDoc(&c, &now)
	if d.Marks["spread_db"] != "better" || d.Marks["deepest_dip"] != "no difference" || d.Marks["mean_fall_20_db_s"] != "worse" {
		t.Errorf("marks %v", d.Marks)
	}
	if d.Trials == nil || *d.Trials != (TrialsDoc{50, 49, 20}) || d.WorstFall == nil || !d.WorstFall.Resolved {
		t.Errorf("%+v", d)
	}
	bare := state("now", 14, -20, 0)
	if d := NewDoc(&bare, nil); d.MeanFall != nil || d.WorstFall != nil || d.Marks != nil || d.Off != nil {
		t.Errorf("unknown figures in %+v", d)
	}
	if cells := Cells(bare.Card.Card); len(cells) != len(Columns) || cells[0] != "14.000" || cells[9] != "" {
		t.Errorf("cells %q of columns %q", cells, Columns)
	}
}

// Every figure has a name, a key, a cell and a clause of its own.
func TestFiguresAreWorded(t *testing.T) {
	t.Parallel()
	before, after := state("now", 14, -20, 0.4), state("1", 8, -12, 0.3)
	names, keyed, clauses, nouned := map[string]bool{}, map[string]bool{}, map[string]bool{}, map[string]bool{}
	for _, f := range response.FigureList {
		names[Names[f]], keyed[keys[f]], nouned[nouns[f]] = true, true, true
		clauses[clause(f, before.Card.Card, after.Card.Card)] = true
		if Names[f] == "" || keys[f] == "" || Cell(after.Card.Card, f) == unit.Unknown {
			t.Errorf("figure %d lacks a name, a key or a cell", f)
		}
	}
	if n := len(response.FigureList); len(names) != n || len(keyed) != n || len(clauses) != n || len(nouned) != n || nouned[""] {
		t.Errorf("%d figures have %d names, %d keys, %d clauses and %d nouns", n, len(names), len(keyed), len(clauses), len(nouned))
	}
}

// Another state is offered where the first makes something worse and the other impairs nothing; what it costs is said.
func TestCheaper(t *testing.T) {
	t.Parallel()
	now := state("now", 14, -15, 0.4)
	dear := state("1", 8, -17, 0.4)
	dear.Card.Within, dear.Card.LowOctave = 0.5, -5
	for name, c := range map[string]struct {
		first, other State
		want         string
	}{
		"offered":               {dear, state("2", 10, -15, 0.4), "costs less elsewhere: ±10.0 dB instead of ±8.0 dB, with the share within ±6 dB, the deepest dip and the lowest octave no worse than now"},
		"at a lower cost":       {dear, state("2", 10, -15, 0.5), "costs less elsewhere: ±10.0 dB instead of ±8.0 dB, with the share within ±6 dB, the deepest dip and the lowest octave no worse than now; but the slowest 20 dB decay takes ≥ 900 ms at 63 Hz instead of 800 ms at 63 Hz and the mean 20 dB decay takes 500 ms instead of 400 ms"},
		"nothing to save":       {state("1", 8, -12, 0.4), state("2", 10, -15, 0.4), ""},
		"it impairs the dip":    {dear, state("2", 10, -16.5, 0.4), ""},
		"its spread is no gain": {dear, state("2", 13.8, -15, 0.4), ""},
	} {
		if got := Cheaper(&now, &c.first, &c.other); got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
	with, sofa := dear, now
	with.Seats, sofa.Seats = seats(8, 20), seats(14, 17)
	other := state("2", 10, -15, 0.4)
	other.Seats = seats(10, 17)
	if got := Cheaper(&sofa, &with, &other); !strings.Contains(got, "the deepest dip, the lowest octave and the spread at sofa no worse than now") {
		t.Errorf("%q says nothing of the sofa", got)
	}
}

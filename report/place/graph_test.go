package place

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/cause"
	"evenbass/optimize/uncertainty"
	"evenbass/report/card"
	"evenbass/report/reporttest"
	"evenbass/report/room"
	"evenbass/report/svg"
)

// pointsOf reads the points of a path back.
func pointsOf(t *testing.T, d string) []svg.Point {
	t.Helper()
	var list []svg.Point
	fields := strings.Fields(strings.NewReplacer("M", " ", "L", " ", "Z", " ").Replace(d))
	for i := 0; i+1 < len(fields); i += 2 {
		var p svg.Point
		if _, err := fmt.Sscan(fields[i], &p.X); err != nil {
			t.Fatal(err)
		}
		if _, err := fmt.Sscan(fields[i+1], &p.Y); err != nil {
			t.Fatal(err)
		}
		list = append(list, p)
	}
	return list
}

// valueAt turns a point of a graph back into a frequency in Hz and a level in dB by the frame
// that the drawing carries for scripts.
func valueAt(t *testing.T, d *svg.Drawing, p svg.Point) (hz, level float64) {
	t.Helper()
	var left, top, right, bottom, from, to, low, high float64
	if _, err := fmt.Sscan(d.Frame, &left, &top, &right, &bottom, &from, &to, &low, &high); err != nil {
		t.Fatalf("frame %q: %v", d.Frame, err)
	}
	return from * math.Pow(to/from, (p.X-left)/(right-left)), low + (bottom-p.Y)/(bottom-top)*(high-low)
}

// Each curve is what was judged, relative to its own mean, and its bracket is as high as twice
// its spread; read back from the drawing by its own frame. A unit of the drawing is 0.2 dB.
func TestResponseGraph(t *testing.T) {
	in := fixtureInput(model.DefaultGrid())
	for _, c := range response.Channels {
		d := responseGraph(&in, "x", c, svg.Wide, 2).Drawing()
		for class, layout := range map[string]int{"now": 0, "result": 2} {
			judged := &in.Result.Shown()[layout].Judgement
			curve := shapesOf(d, "curve "+class)
			if len(curve) != 1 {
				t.Fatalf("%v: %d curves of %s", c, len(curve), class)
			}
			for i, p := range pointsOf(t, curve[0].D) {
				hz, level := valueAt(t, d, p)
				want := max(svg.LevelBottom, float64(judged.Curves[c][i]-judged.Figures[c].Mean))
				if math.Abs(hz-min(in.Grid[i], svg.AxisTo)) > 0.02*hz || math.Abs(level-want) > 0.011 {
					t.Fatalf("%v, %s: %.1f Hz %.2f dB, want %.1f Hz %.2f dB", c, class, hz, level, in.Grid[i], want)
				}
			}
			bracket := pointsOf(t, shapesOf(d, "bracket "+class)[0].D)
			_, high := valueAt(t, d, bracket[0])
			_, low := valueAt(t, d, bracket[2])
			if f := judged.Figures[c]; math.Abs(high-float64(f.Highest.Level)) > 0.011 || math.Abs(low-max(svg.LevelBottom, float64(f.Lowest.Level))) > 0.011 {
				t.Errorf("%v, %s: bracket from %.2f to %.2f dB, want %v to %v", c, class, low, high, f.Lowest, f.Highest)
			}
		}
	}
}

// The first graph is that of the channel behind the verdict's figure, and every dip is marked
// where it is, with its frequency, its cause and its cure.
func TestLeadGraph(t *testing.T) {
	in := fixtureInput(model.DefaultGrid())
	dips := bestDips(&in)
	if len(dips) == 0 {
		t.Fatal("the layout has no dip")
	}
	for _, form := range []svg.Form{svg.Wide, svg.Narrow} {
		d := leadGraph(&in, form).Drawing()
		marks := shapesOf(d, "notepoint")
		if len(marks) != len(dips) {
			t.Fatalf("%d marks for %d dips", len(marks), len(dips))
		}
		for i, m := range marks {
			hz, level := valueAt(t, d, svg.XY(float64(m.X), float64(m.Y)))
			if f := dips[i].Feature; math.Abs(hz-f.Frequency) > 0.01*hz || math.Abs(level-float64(f.Level)) > 0.3 {
				t.Errorf("a mark at %.1f Hz, %.1f dB, the dip is %+v", hz, level, f)
			}
		}
		words := fmt.Sprint(shapesOf(d, "dipnote"), shapesOf(d, "dipnote lead"))
		want := "mode (1,0,0)"
		if form == svg.Narrow {
			want = "A"
		}
		if !strings.Contains(words, want) {
			t.Errorf("%q is not among the notes: %s", want, words)
		}
	}
}

// The card on the first sheet names what got better and what got worse by these words, and
// leaves out what the prediction cannot tell apart; the note counts that.
func TestLeadCard(t *testing.T) {
	in := fixtureInput(reporttest.CoarseGrid())
	table, note := leadCard(&in)
	states := in.states()[:2]
	rows, left := card.Rows(states, true, in.Style), 0
	for i, r := range rows {
		word := map[string]string{"✓": "better", "✗": "worse"}[r.Marks[1]]
		k := slices.IndexFunc(table.Rows, func(row []string) bool { return row[0] == r.Name })
		switch {
		case i > 0 && r.Marks[1] == "≈":
			left++
			if k >= 0 {
				t.Errorf("%s is told without a difference", r.Name)
			}
		case k < 0 || table.Rows[k][3] != word:
			t.Errorf("%s, %q: row %d of %v", r.Name, word, k, table.Rows)
		}
	}
	if want := fmt.Sprint(left); (left > 0) != strings.HasPrefix(note, want) || len(table.Rows)+left != len(rows) {
		t.Errorf("%d rows of %d, note %q", len(table.Rows), len(rows), note)
	}
	in.Result.Now = nil
	if table, note := leadCard(&in); len(table.Head) != 2 || note != commonSpread || len(table.Rows) == 0 {
		t.Errorf("without anything that stands now: %v, %q", table, note)
	}
}

// A dip that was found in another channel is marked where the drawn channel has it, and left out
// where that has none as deep.
func TestDipOfOtherChannel(t *testing.T) {
	in := fixtureInput(model.DefaultGrid())
	j := &in.best().Judgement
	other := (j.Worst + 1) % 3
	lowest := j.Figures[j.Worst].Lowest
	at := func(hz float64, level model.Level) []cause.Dip {
		f := response.Feature{Channel: other, Frequency: hz, Level: level}
		in.Faults = []LayoutFaults{{Number: 1, Faults: []cause.Dip{{Feature: f}}}}
		return bestDips(&in)
	}
	got := at(lowest.Frequency*1.01, lowest.Level+1)
	if len(got) != 1 || math.Abs(got[0].Feature.Frequency/lowest.Frequency-1) > 0.02 || math.Abs(float64(got[0].Feature.Level-lowest.Level)) > 0.2 {
		t.Errorf("the dip is %+v, the curve's lowest point %+v", got, lowest)
	}
	if got := at(lowest.Frequency, lowest.Level-10); len(got) != 0 {
		t.Errorf("a dip that is not there: %+v", got)
	}
	if got := at(500, lowest.Level); len(got) != 0 {
		t.Errorf("a dip off the grid: %+v", got)
	}
}

// No note leaves the frame, covers another or covers a curve.
func TestNotesDodge(t *testing.T) {
	in := fixtureInput(model.DefaultGrid())
	d := leadGraph(&in, svg.Wide).Drawing()
	notes := append(shapesOf(d, "dipnote"), shapesOf(d, "dipnote lead")...)
	for i, n := range notes {
		r := extent(n)
		if r.X < 0 || r.X+r.W > float64(d.Width) || r.Y < 0 || r.Y+r.H > float64(d.Height) {
			t.Errorf("%q leaves the graph", n.Text)
		}
		for _, o := range notes[:i] {
			if r.Overlap(extent(o)) > 2 {
				t.Errorf("%q covers %q", n.Text, o.Text)
			}
		}
		for _, p := range pointsOf(t, shapesOf(d, "curve result")[0].D) {
			if r.Overlap(svg.RectAt(p.X-0.5, p.Y-0.5, 1, 1)) > 0.5 {
				t.Errorf("%q covers the curve at %v", n.Text, p)
			}
		}
	}
}

// A level that is no number breaks the line rather than the page.
func TestCurveWithHole(t *testing.T) {
	g := svg.Graph{Traces: []svg.Trace{{Class: "result", X: []float64{30, 40, 50, 60, 70}, Y: []float64{1, math.Inf(-1), math.NaN(), 2, 3}}}}
	curve := shapesOf(g.Drawing(), "curve result")
	if len(curve) != 1 || strings.Count(curve[0].D, "M") != 2 || len(pointsOf(t, curve[0].D)) != 3 {
		t.Errorf("the curve is %+v", curve)
	}
}

// Every mode up to 300 Hz is drawn once, as high as its decay time.
func TestModeGraph(t *testing.T) {
	in := fixtureInput(reporttest.CoarseGrid())
	d := room.ModeGraph(in.Modes, svg.Wide)
	drawn := 0
	for _, kind := range []string{"oblique", "tangential", "axial"} {
		var modes []room.Mode
		for _, m := range in.Modes {
			if m.Kind == kind && m.Frequency >= svg.AxisFrom {
				modes = append(modes, m)
			}
		}
		for i, s := range shapesOf(d, "curve "+kind) {
			foot, top := pointsOf(t, s.D)[0], pointsOf(t, s.D)[1]
			hz, zero := valueAt(t, d, foot)
			_, decay := valueAt(t, d, top)
			if math.Abs(hz-modes[i].Frequency) > 0.01*hz || math.Abs(zero) > 0.01 || math.Abs(decay-modes[i].Decay) > 0.01 {
				t.Errorf("%s: stem at %.1f Hz from %.2f to %.2f s, the mode is %+v", kind, hz, zero, decay, modes[i])
			}
			drawn++
		}
	}
	if drawn != len(in.Modes) {
		t.Errorf("%d of %d modes are drawn", drawn, len(in.Modes))
	}
}

// The table of third octaves has a column for each layout, and its figures are those of the
// curve: in a band where the curve hardly changes, the curve's own level.
func TestOctavesTable(t *testing.T) {
	in := fixtureInput(model.DefaultGrid())
	table := octavesTable(&in, response.BothTogether)
	if got := strings.Join(table.Head, "|"); got != "Hz|now|layout 1|layout 2|layout 3|layout 4" {
		t.Errorf("columns are %s", got)
	}
	if len(table.Rows) != 11 || table.Rows[0][0] != "25" {
		t.Fatalf("rows are %v", table.Rows)
	}
	for k, o := range response.ThirdOctaves(in.Grid, in.best().Judgement.Curves[response.BothTogether]) {
		want := float64(o.Level - in.best().Judgement.Figures[response.BothTogether].Mean)
		var got float64
		if _, err := fmt.Sscan(strings.ReplaceAll(table.Rows[k][2], "−", "-"), &got); err != nil || math.Abs(got-want) > 0.051 {
			t.Errorf("%v Hz: %s, want %.2f", o.Band, table.Rows[k][2], want)
		}
	}
}

// The range over trials is drawn as what it is, about the curve of its layout.
func TestRangeDrawn(t *testing.T) {
	in := fixtureInput(reporttest.CoarseGrid())
	if got := shapesOf(responseGraph(&in, "x", response.BothTogether, svg.Wide, 1).Drawing(), "band result"); len(got) != 0 {
		t.Errorf("a range without trials: %v", got)
	}
	r := uncertainty.LevelRange{Low: []float64{-8, -4}, High: []float64{2, 6}}
	in.Stability = &uncertainty.Stability{Trials: 30, Grid: model.Grid{40, 160}, Ranges: [][3]uncertainty.LevelRange{{r, r, r}}}
	d := responseGraph(&in, "x", response.BothTogether, svg.Wide, 1).Drawing()
	corners := pointsOf(t, shapesOf(d, "band result")[0].D)
	for i, want := range [][2]float64{{40, 2}, {160, 6}, {160, -4}, {40, -8}} {
		if hz, level := valueAt(t, d, corners[i]); math.Abs(hz-want[0]) > 0.5 || math.Abs(level-want[1]) > 0.011 {
			t.Errorf("corner %d: %.1f Hz, %.2f dB, want %v", i, hz, level, want)
		}
	}
	if !strings.Contains(leadText(&in), "30 trials") {
		t.Errorf("the text is %q", leadText(&in))
	}
}

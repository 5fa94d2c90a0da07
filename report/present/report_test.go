package present

import (
	"bytes"
	"encoding/json"
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/model/measure/analysis"
	"evenbass/model/measure/comparison"
	"evenbass/model/measure/diagnosis"
	"evenbass/model/response"
	"evenbass/optimize/observation"
	"evenbass/report/unit"
)

// echo is a direct sound with an echo, which digs dips: the first at half the inverse of its delay.
func echo(f, delay, strength float64) complex128 {
	return 1 + complex(strength, 0)*cmplx.Rect(1, -2*math.Pi*f*delay)
}

// fixture is a left speaker that was measured with a dip at 100 Hz and predicted with one at 97 Hz.
func fixture(t *testing.T) *observation.Present {
	t.Helper()
	goal := model.Goal{From: 40, To: 200, Smoothing: 12}
	grid := model.NewGrid(20, 315, 48, 0)
	table := &measure.Table{}
	var p []complex128
	for _, f := range grid {
		table.Frequencies = append(table.Frequencies, f)
		table.Levels = append(table.Levels, 70+model.LevelOf(cmplx.Abs(echo(f, 1/200.0, 0.8))))
		p = append(p, echo(f, 1/194.0, 0.8)*complex(0, f))
	}
	m := &measure.Measurement{Name: "chair, left", Seat: "chair", Speaker: model.LeftSpeaker, StateKnown: true, Table: table}
	a, err := analysis.New(m, goal)
	if err != nil {
		t.Fatal(err)
	}
	c, err := comparison.New(analysis.Predict(response.LeftAlone, grid, p, nil, model.AirAt(0), goal), a, response.Resolution{})
	if err != nil {
		t.Fatal(err)
	}
	out := &observation.Present{
		Speakers:   []observation.PresentSpeaker{{Speaker: model.LeftSpeaker, Measured: a, Comparison: c}},
		Faults:     diagnosis.Find([]*analysis.Analysis{a}),
		Prediction: &observation.Prediction{Engine: model.EngineInfo{Kind: model.ModeEngine}},
	}
	out.Next = diagnosis.Best([]*analysis.Analysis{a}, out.Faults)
	return out
}

// What was measured stands beside what is predicted now and later, in words, table and JSON.
func TestText(t *testing.T) {
	t.Parallel()
	present := fixture(t)
	r := Report{Present: present, Style: unit.Metric, After: After{"layout 1", func(response.Channel, float64) model.Level { return -3.25 }}}
	var b strings.Builder
	WriteText(&b, r)
	words := strings.Join(strings.Fields(b.String()), " ")
	for _, want := range []string{
		"Measured as the room stands: left ±9.", "The prediction fits the levels in this room well: the curves differ by", "dip at 99.9 Hz (−14.4 dB): cause unknown; the other speaker was not measured. The prediction has it at 97",
		"+4.4 dB): cause unknown; the other speaker was not measured. Predicted there: +4.3 dB. Layout 1: −3.2 dB predicted there.", "Next: measure with a sweep.", "on average left ±9.4 dB ±9.4 dB −14.4 dB −14.6 dB 0.7 dB at 99.9 Hz at 97.2 Hz",
	} {
		if !strings.Contains(words, want) {
			t.Errorf("no %q in\n%s", want, b.String())
		}
	}
	if strings.Contains(words, "evenbass calibrate") {
		t.Error("a prediction that knows the room asks for a calibration")
	}
	if present.Costly = true; !strings.Contains(strings.Join(r.Next(), " "), "run evenbass calibrate, which says where to measure next. This room needs the wave solver") {
		t.Errorf("next in a room for the wave solver: %q", r.Next())
	}
	present.Speakers[0].Comparison.Typical = 7
	if h := r.Headline(); !strings.Contains(h, "does not fit this room yet") || !strings.Contains(h, "evenbass calibrate") {
		t.Error(h)
	}
	if r.Calibrated = true; strings.Contains(r.Headline(), "evenbass calibrate") {
		t.Error("a calibrated room is to be calibrated")
	}
	v := NewView(r)
	if len(v.Graphs) != 1 || !strings.Contains(v.Graphs[0].Title(), "measured and predicted") || NewView(Report{}) != nil || NewDoc(nil) != nil {
		t.Errorf("%+v", v)
	}
	var doc bytes.Buffer
	if err := json.NewEncoder(&doc).Encode(NewDoc(present)); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`"measurement":"chair, left"`, `"mean_difference_db":7`, `"kind":"dip"`, `"cause":"open"`, `"next":"measure an impulse response"`} {
		if !strings.Contains(doc.String(), want) {
			t.Errorf("no %s in %s", want, doc.String())
		}
	}
}

// What nobody measured is called invented everywhere, as one of two beside what somebody did, too.
func TestInvented(t *testing.T) {
	t.Parallel()
	one := fixture(t)
	whole := *one.Speakers[0].Measured.Measurement
	whole.Notes = []string{measure.InventedNote + "."}
	a := *one.Speakers[0].Measured
	a.Measurement = &whole
	c := *one.Speakers[0].Comparison
	c.After = &a
	invented := observation.PresentSpeaker{Speaker: model.RightSpeaker, Measured: &a, Comparison: &c}
	mixed := *one
	mixed.Speakers = append([]observation.PresentSpeaker{}, one.Speakers[0], invented)
	one.Speakers[0] = invented

	r := Report{Present: one, Style: unit.Metric}
	var b strings.Builder
	WriteText(&b, r)
	v := NewView(r)
	all := strings.Join([]string{b.String(), v.Title, v.Note, v.Graphs[0].Title(), r.Link().Text}, "\n")
	for _, honest := range []string{"not measured", "other speaker was not measured"} {
		all = strings.ReplaceAll(all, honest, "")
	}
	if strings.Contains(strings.ToLower(all), "measured") {
		t.Errorf("what is invented is called measured in\n%s", all)
	}
	if v.Title != "Invented, not measured, beside the prediction" || r.Link().Text != "Invented" || !strings.HasPrefix(v.Note, "Invented: solid.") || !NewDoc(one).Speakers[0].Invented {
		t.Errorf("%+v", v)
	}

	r.Present = &mixed
	v = NewView(r)
	if !strings.Contains(v.Headline, "Measured as the room stands: left ±9.4 dB, right (invented) ±9.4 dB") || v.Table.Rows[1][0] != "right (invented)" || !strings.HasPrefix(v.Note, "Measured or invented: solid.") {
		t.Errorf("of two, the second is invented: %q, %q, %q", v.Headline, v.Table.Rows, v.Note)
	}
	if left, right := v.Graphs[0].Title(), v.Graphs[1].Title(); !strings.Contains(left, "measured and predicted") || !strings.Contains(right, "invented and predicted") {
		t.Errorf("graphs %q and %q", left, right)
	}
}

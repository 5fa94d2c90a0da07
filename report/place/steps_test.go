package place

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/optimize"
	"evenbass/optimize/score"
	"evenbass/report/reporttest"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// chain returns a result whose steps go through the given layouts, each a dB
// better than the one before.
func chain(parts []optimize.Part, layouts ...model.Layout) *optimize.Result {
	r := &optimize.Result{Candidates: []score.Candidate{{Layout: layouts[len(layouts)-1]}}}
	for i, p := range parts {
		r.Steps = append(r.Steps, optimize.Step{Parts: []optimize.Part{p}, From: layouts[i], To: layouts[i+1], Before: model.Level(9 - i), After: model.Level(8 - i)})
	}
	return r
}

// Every kind of step says what goes where and what it brings; a way cut short says
// so.
func TestStepLines(t *testing.T) {
	a := reporttest.Layout(0.5, 0.7, 2, 1.2)
	b := a
	b.Seat.X += 0.14
	c := b
	c.Left.X, c.Right.X = 0.8, 0.8
	d := c
	d.Left.Y, d.Right.Y = d.Left.Y-0.05, d.Right.Y+0.05
	e := d
	e.Left.Z, e.Right.Z = e.Left.Z+0.1, e.Right.Z+0.1
	f := e
	f.Left.X += 0.02
	f.Right.X -= 0.03
	g := f
	g.Left.Y, g.Right.Y = g.Left.Y+0.2, g.Right.Y-0.2
	r := chain([]optimize.Part{
		optimize.SeatAlong, optimize.SpeakersAlong, optimize.SpeakersAcross, optimize.SpeakersHeight, optimize.SpeakersAlong, optimize.SpeakersAcross,
	}, a, b, c, d, e, f, g)
	want := []string{
		"seat 14 cm towards the back wall: ±9.0 to ±8.0 dB",
		"both speakers 30 cm towards the back wall: ±8.0 to ±7.0 dB",
		"each speaker 5 cm outwards: ±7.0 to ±6.0 dB",
		"both speakers 10 cm up: ±6.0 to ±5.0 dB",
		"left speaker 2 cm towards the back wall, right speaker 3 cm towards the front wall: ±5.0 to ±4.0 dB",
		"each speaker 20 cm inwards: ±4.0 to ±3.0 dB",
	}
	if d := cmp.Diff(want, stepLines(&Report{Result: r})); d != "" {
		t.Error(d)
	}
	r.Candidates[0].Layout.Seat = r3.Vec{X: 3}
	r.Candidates[0].Judgement.Figures[0].Spread = 7.7
	r.Steps = r.Steps[:1]
	got := stepLines(&Report{Result: r})
	if len(got) != 2 || got[1] != "you may stop here: layout 1, as drawn, takes ±8.0 to ±7.7 dB" {
		t.Errorf("%q", got)
	}
	r.Candidates[0].Judgement.Figures[0].Spread = 8.4
	if got := stepLines(&Report{Result: r}); !strings.Contains(got[1], "is as good (±8.4 dB)") {
		t.Errorf("%q", got)
	}
	if got, want := text.StepText(a, d, unit.Metric), "seat 14 cm towards the back wall, and each speaker 5 cm outwards and 30 cm towards the back wall"; got != want {
		t.Errorf("two parts at once: %q, want %q", got, want)
	}
}

// The steps are in the summary, numbered on the page, and in the JSON.
func TestStepsAreShown(t *testing.T) {
	in := fixtureInput(reporttest.CoarseGrid())
	l := in.Result.Now.Layout
	to := l
	to.Seat.X += 0.14
	in.Result.Steps = []optimize.Step{{Parts: []optimize.Part{optimize.SeatAlong}, From: l, To: to, Before: 9.1, After: 7.6}}
	in.Full = true
	text := Text(in)
	if !strings.Contains(text, "\n"+stepsHeading+"\n1. seat 14 cm towards the back wall: ±9.1 to ±7.6 dB\n") {
		t.Errorf("no step in the summary:\n%s", text)
	}
	page := reporttest.Written(t, Page, in)
	if want := "<h3>" + stepsHeading + "</h3>\n<ol>\n<li>seat 14 cm towards the back wall: ±9.1 to ±7.6 dB</li>"; !strings.Contains(page, want) {
		t.Error("no step on the page")
	}
	var doc strings.Builder
	if err := JSON(&doc, in); err != nil {
		t.Fatal(err)
	}
	compact := strings.Join(strings.Fields(doc.String()), " ")
	if want := `"steps": [ { "parts": [ "seat along the room" ], "left":`; !strings.Contains(compact, want) {
		t.Error("no step in the JSON")
	}
	if want := `"spread_before_db": 9.1, "spread_after_db": 7.6, "breaks_rules": false`; !strings.Contains(compact, want) {
		t.Error("no gain in the JSON")
	}
}

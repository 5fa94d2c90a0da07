package place

import (
	"strings"
	"testing"

	"evenbass/optimize/uncertainty"
	"evenbass/report/reporttest"
	"evenbass/report/unit"
)

// drawnInput is the fixture with invented rank stability.
func drawnInput(now bool) Report {
	in := fixtureInput(reporttest.CoarseGrid())
	stand := func(first int) uncertainty.Outcome {
		return uncertainty.Outcome{First: first, Better: 98, Spread: uncertainty.Interval{Low: 8.1, Median: 9, High: 10.26},
			Lowest: uncertainty.Interval{Low: -14, Median: -12, High: -9.5}, Reach: uncertainty.Interval{Low: 20, Median: 21, High: 33.3}}
	}
	s := &uncertainty.Stability{Trials: 100}
	for i := range in.Result.Candidates {
		s.Layouts = append(s.Layouts, stand([]int{71, 20, 9, 0}[i]))
	}
	if now {
		n := stand(0)
		s.Now = &n
	}
	in.Stability = s
	return in
}

// The text tells how often the first layout stays first, what was drawn, and the range
// of each figure.
func TestStandingText(t *testing.T) {
	t.Parallel()
	var b strings.Builder
	drawn := drawnInput(true)
	writeStanding(&b, &drawn)
	reporttest.Golden(t, "standing.txt", b.String())

	b.Reset()
	between := drawnInput(true)
	between.Style = unit.Both
	between.Stability.Interpolated, between.Stability.Wool = true, true
	writeStanding(&b, &between)
	reporttest.Golden(t, "standing-wave.txt", b.String())
	if text := strings.ReplaceAll(b.String(), "\n", " "); !strings.Contains(text, "The trials keep the size of the room.") || strings.Contains(text, "room sizes") {
		t.Errorf("interpolated trials:\n%s", text)
	}
	between.Stability.Wool = false
	between.Stability.Layouts[0].First, between.Stability.Layouts[2].First = 9, 71
	if text := standingText(between.Stability, unit.Metric); !strings.Contains(text, "first in 9 of 100") || !strings.Contains(text, "Layout 3 came first more often, in 71:") {
		t.Errorf("another layout came first more often:\n%s", text)
	}
	if text := standingText(between.Stability, unit.Metric); strings.Contains(text, "resistivity") {
		t.Errorf("without wool:\n%s", text)
	}

	b.Reset()
	drawn = drawnInput(false)
	writeStanding(&b, &drawn)
	if text := b.String(); strings.Contains(text, "present places") || strings.Contains(text, "better than now") || !strings.Contains(text, "71 of 100") {
		t.Errorf("where nothing stands now:\n%s", text)
	}
	b.Reset()
	drawn = fixtureInput(reporttest.CoarseGrid())
	writeStanding(&b, &drawn)
	if b.Len() > 0 {
		t.Errorf("without trials:\n%s", b.String())
	}
}

// Page and JSON have it too.
func TestStandingOnPageAndInJSON(t *testing.T) {
	t.Parallel()
	in := drawnInput(true)
	in.Stability.Interpolated = true
	var page, doc strings.Builder
	if err := Page(&page, in); err != nil {
		t.Fatal(err)
	}
	if err := JSON(&doc, in); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"How stable the ranking is", "Layout 1 came first in 71 of 100 trials", "<td>±8.1 to ±10.3 dB</td>"} {
		if !strings.Contains(page.String(), want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	for _, want := range []string{`"trials": 100`, `"interpolated": true`, `"first": 71`, `"better_than_now": 98`, `"spread_db_10_50_90"`, "10.26"} {
		if !strings.Contains(doc.String(), want) {
			t.Errorf("the JSON lacks %q", want)
		}
	}
}

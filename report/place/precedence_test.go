package place

import (
	"strings"
	"testing"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize"
	"evenbass/optimize/score"
	"evenbass/optimize/uncertainty"
	"evenbass/report/reporttest"
)

// Where another layout has less spread, the text and the page say what decided for layout 1.
func TestPrecedenceText(t *testing.T) {
	in := fixtureInput(reporttest.CoarseGrid())
	layout := func(spread, counted, deviation model.Level, off float64) score.Candidate {
		c := in.Result.Candidates[0]
		c.Seats, c.Score, c.Tolerance = nil, counted, score.Tolerance{Left: off, Right: off, Seat: off}
		c.Card = response.Ranged{Card: response.Card{Spread: spread, Deviation: deviation}, Least: response.Resolution{response.SpreadFigure: 1, response.DeviationFigure: 0.5}}
		for i := range c.Judgement.Figures {
			c.Judgement.Figures[i].Spread = spread
		}
		return c
	}
	trials := func(c score.Candidate, spread model.Level) score.Candidate {
		c.Card.Trials = []response.Card{{Spread: spread}}
		return c
	}
	weighed := func(c score.Candidate) score.Candidate {
		c.Seats = []score.SeatFigures{{Name: "chair", Weight: 1}}
		return c
	}
	now := layout(14, 14, 4, 0.05)
	first := layout(7.2, 8, 3, 0.05)
	for _, c := range []struct {
		now           *score.Candidate
		first, second score.Candidate
		stability     *uncertainty.Stability
		want          string // "" is nothing at all
	}{
		{nil, first, layout(7.4, 8, 3, 0.02), nil, ""},
		{nil, first, layout(7.2, 9.4, 3, 0.02), nil, ""},
		{nil, first, layout(7, 9.4, 3, 0.05), nil, "Layout 2 has less spread (±7.0 dB against ±7.2 dB), but with marks slightly off and the listener leaning, layout 1 gives ±8.0 dB against ±9.4 dB."},
		{nil, weighed(first), weighed(layout(7, 9.4, 3, 0.05)), nil, "leaning, over all seats by weight, layout 1 gives"},
		{nil, first, layout(7, 8, 3, 0.02), nil, "cannot tell the two apart in score, and the marks of layout 1 may be off by 5 cm against 2 cm."},
		{nil, first, layout(7, 8, 4, 0.05), nil, "layout 1 has the smaller standard deviation, 3.0 dB against 4.0 dB."},
		{nil, trials(first, 8), trials(layout(7, 8, 3, 0.05), 11), new(uncertainty.Stability), "and in nine of ten trials layout 1 stays within ±8.0 dB against ±11.0 dB."},
		{&now, first, layout(7, 6, 6, 0.05), nil, "but it leaves more of the band uneven than now."},
	} {
		in.Result = &optimize.Result{Now: c.now, Candidates: []score.Candidate{c.first, c.second}}
		in.Stability = c.stability
		if got := precedenceText(&in); !strings.Contains(got, c.want) || c.want == "" && got != "" {
			t.Errorf("it says %q, want %q", got, c.want)
		}
		if note := layoutsNote(&in); !strings.Contains(note, c.want) {
			t.Errorf("the page says %q, want %q in it", note, c.want)
		}
	}
}

// Where layout 1 makes something worse and another one impairs nothing, the text, the page and the summary offer it.
func TestCheaperText(t *testing.T) {
	in := fixtureInput(reporttest.CoarseGrid())
	layout := func(spread model.Level, within float64) score.Candidate {
		c := in.Result.Candidates[0]
		c.Seats, c.Card = nil, response.Ranged{Card: response.Card{Spread: spread, Deviation: 5, Within: within}}
		return c
	}
	now := layout(14, 0.6)
	r := *in.Result
	r.Now, r.Candidates = &now, []score.Candidate{layout(8, 0.4), layout(9, 0.45), layout(10, 0.6)}
	in.Result = &r
	const want = "costs less elsewhere: ±10.0 dB instead of ±8.0 dB, with the share within ±6 dB no worse than now."
	var page strings.Builder
	if err := Page(&page, in); err != nil {
		t.Fatal(err)
	}
	marks, _, _ := strings.Cut(page.String(), `<div class="appendix">`)
	for what, got := range map[string]string{"text": Text(in), "page": marks, "list": layoutsNote(&in)} {
		if !strings.Contains(strings.Join(strings.Fields(got), " "), "Layout 3 "+want) {
			t.Errorf("the %s says %q", what, got)
		}
	}
	steps := NewSummary(&in).Steps
	if last := steps[len(steps)-1]; !strings.HasPrefix(last, "Layout 3 (woofers ") || !strings.HasSuffix(last, ") "+want) {
		t.Errorf("the summary ends with %q", last)
	}
	r.Candidates = r.Candidates[:2]
	if got := cheaperText(&in); got != "" {
		t.Errorf("no layout impairs nothing, and yet %q", got)
	}
	r.Now = nil
	if got := cheaperText(&in); got != "" {
		t.Errorf("nothing stands, and yet %q", got)
	}
}

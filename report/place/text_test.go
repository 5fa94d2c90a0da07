package place

import (
	"regexp"
	"strings"
	"testing"

	"github.com/rivo/uniseg"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize"
	"evenbass/optimize/engines"
	"evenbass/optimize/score"
	"evenbass/optimize/search"
	"evenbass/optimize/study"
	"evenbass/report/prediction"
	"evenbass/report/reporttest"
	"evenbass/report/room"
	"evenbass/report/text"
	"evenbass/report/unit"
)

func TestSummaryGolden(t *testing.T) {
	in := fixtureInput(model.DefaultGrid())
	short := Text(in.in(unit.Metric))
	reporttest.Golden(t, "summary-short.txt", short)
	reporttest.CheckFits(t, short)
	in.Full = true
	reporttest.Golden(t, "summary-metric.txt", Text(in.in(unit.Metric)))
	reporttest.Golden(t, "summary-both.txt", Text(in.in(unit.Both)))
}

func fixtureForecast(in Report) prediction.Report {
	return prediction.Report{
		Project: in.Project, Engine: in.Result.Engine, Title: "as it stands now", Layout: in.Result.Now,
		Faults: in.Faults[0].Faults, Modes: in.Modes, Full: in.Full,
	}
}

func fixtureUnderstood(in Report) room.Report {
	return room.Report{Project: in.Project, Engine: "mode", Why: "the room is a plain box with even walls", Walls: in.Walls, Modes: in.Modes, Transition: 188, Warnings: []model.Warning{model.Remark("a doubt")}}
}

// Whatever the room is called and whatever the units, no line of any text is
// wider than a terminal of 100 columns, and nothing reaches the terminal that is
// not printable.
func TestTextWidth(t *testing.T) {
	in := fixtureInput(reporttest.CoarseGrid())
	in.Full = true
	rapid.Check(t, func(t *rapid.T) {
		in.Project.Room.Name = rapid.StringN(0, 300, -1).Draw(t, "name")
		in.Project.Room.Blocks[0].Name = rapid.StringN(0, 60, -1).Draw(t, "block")
		s := rapid.SampledFrom([]unit.Style{unit.Metric, unit.Imperial, unit.Both}).Draw(t, "style")
		words := Text(in.in(s)) + prediction.Text(fixtureForecast(in), s) + room.Text(fixtureUnderstood(in), s)
		for _, line := range strings.Split(words, "\n") {
			if n := uniseg.StringWidth(line); n > text.Columns {
				t.Fatalf("line of %d characters: %q", n, line)
			}
			if line != text.Printable(line) {
				t.Fatalf("line with unprintable characters: %q", line)
			}
		}
	})
}

func TestSummaryOfNothing(t *testing.T) {
	in := fixtureInput(reporttest.CoarseGrid())
	in.Result.Candidates = nil
	if got := Text(in.in(unit.Metric)); !strings.Contains(got, "No layout was found.") {
		t.Errorf("an empty result is summed up as\n%s", got)
	}
}

// The headline follows the figures: a gain is announced only where the prediction can tell it, and
// present places that win by breaking the rules are said to.
func TestHeadline(t *testing.T) {
	in := fixtureInput(reporttest.CoarseGrid())
	set := func(now, best model.Level, breaches []model.Breach) *optimize.Result {
		r := *in.Result
		n, c := *in.Result.Now, in.Result.Candidates[0]
		n.Judgement.Figures[n.Judgement.Worst].Spread = now
		n.Breaches = breaches
		c.Judgement.Figures[c.Judgement.Worst].Spread = best
		n.Card = response.Ranged{Card: response.Card{Spread: now, Deviation: now / 3}, Least: response.Resolution{response.SpreadFigure: 0.7}}
		c.Card = response.Ranged{Card: response.Card{Spread: best, Deviation: best / 3}}
		n.Seats, c.Seats = nil, nil
		r.Now, r.Candidates = &n, []score.Candidate{c}
		return &r
	}
	for _, c := range []struct {
		r    *optimize.Result
		want string
	}{
		{set(9, 5, nil), "evens out the bass from ±9.0 to ±5.0 dB"},
		{set(5.6, 5, nil), "about as good as the best found: ±5.6 dB now, ±5.0 dB at best"},
		{set(4, 5, []model.Breach{{Rule: model.Rule{Kind: model.SeatNear}, Amount: 0.1}}), "break your own rules; the best found within them is ±5.0 dB"},
		{set(4, 5, nil), "about as good"},
	} {
		if got := Headline(&Report{Result: c.r}); !strings.Contains(got, c.want) {
			t.Errorf("headline is %q, want %q in it", got, c.want)
		}
	}
	here := model.Layout{Left: r3.Vec{X: 1, Y: 1}, Right: r3.Vec{X: 1, Y: 2}, Seat: r3.Vec{X: 2, Y: 1.5}}
	chair, speakers := here, here
	chair.Seat.X, speakers.Left.Y = 2.1, 0.9
	if a, b := whatMoves("chair", here, chair), whatMoves("chair", here, speakers); a != "the chair" || b != "the speakers" || whatMoves("chair", chair, speakers) != "speakers and chair" {
		t.Errorf("what moves is %q and %q", a, b)
	}
	alone := set(9, 5, nil)
	alone.Now = nil
	if got := Headline(&Report{Result: alone}); !strings.Contains(got, "give a spread of ±5.0 dB") {
		t.Errorf("headline without a present layout is %q", got)
	}
	alone.Stopped = search.Cancelled
	if got := newVerdict(&Report{Result: alone, Project: in.Project}); !strings.Contains(got.Trust, "You stopped the search") {
		t.Errorf("a search stopped by hand is trusted as %q", got.Trust)
	}
	still := newVerdict(&Report{Result: set(5.6, 5, nil), Project: in.Project})
	if !strings.HasPrefix(still.Action, "Leave things where they are") {
		t.Errorf("without a gain the advice is %q", still.Action)
	}
}

// Rules of thumb are compared honestly: where they do better in place, that is said.
func TestThumb(t *testing.T) {
	in := fixtureInput(reporttest.CoarseGrid())
	if got := thumbText(&in); got != "" {
		t.Errorf("nobody tried, and it says %q", got)
	}
	best := in.best().Judgement.Spread()
	for _, c := range []struct {
		thumb study.Thumb
		want  string
	}{
		{study.Thumb{Spread: best + 3}, "ears at 38 % of the length"},
		{study.Thumb{Spread: best + 3}, "they know neither the walls nor the height of the room."},
		{study.Thumb{Spread: best - 1}, "of layout 1, which counts marks slightly off"},
		{study.Thumb{Spread: best - 1, Breaks: true}, "and break a rule of the room file."},
	} {
		in.Thumb = &c.thumb
		if got := Text(in); !strings.Contains(strings.Join(strings.Fields(got), " "), c.want) {
			t.Errorf("no %q in\n%s", c.want, got)
		}
	}
}

func TestMoves(t *testing.T) {
	from := r3.Vec{X: 1, Y: 1, Z: 1}
	for _, c := range []struct {
		to   r3.Vec
		want string
	}{
		{from, "stays"},
		{r3.Vec{X: 1.004, Y: 1, Z: 1}, "stays"},
		{r3.Vec{X: 1.2, Y: 0.9, Z: 1.1}, "20 cm towards the back wall, 10 cm towards the left wall and 10 cm up"},
		{r3.Vec{X: 0.8, Y: 1.1, Z: 0.9}, "20 cm towards the front wall, 10 cm towards the right wall and 10 cm down"},
	} {
		if got := text.Moves(from, c.to, unit.Metric); got != c.want {
			t.Errorf("the way to %v is %q, want %q", c.to, got, c.want)
		}
	}
}

// Every engine's figures come with how far to trust them, an unknown engine's too.
func TestTrust(t *testing.T) {
	seen := map[string]bool{}
	for _, engine := range append(engines.Engines()[1:], "other") {
		words := text.Trust(model.EngineInfo{Kind: engine}, "")
		if nameOnly := strings.Contains(words, "by the engine"); nameOnly != (engine == "other") {
			t.Errorf("engine %q is trusted as %q", engine, words)
		}
		if !strings.HasPrefix(words, "Calculated ") || !strings.Contains(words, "measure before you spend") || seen[words] {
			t.Errorf("engine %q is trusted as %q", engine, words)
		}
		seen[words] = true
	}
	claims := []model.ErrorClaim{{Frequency: 120, Error: 0.2}, {Frequency: 300, Error: 1}}
	if words := text.Trust(model.EngineInfo{Kind: model.WaveEngine, Errors: claims}, ""); !strings.Contains(words, "from 0.2 dB below 120 Hz to about 1 dB at 300 Hz") {
		t.Errorf("the claims read %q", words)
	}
}

// The caution's three parts are all there, and every field of trade that the
// product promises to warn about is covered.
func TestCautions(t *testing.T) {
	var all strings.Builder
	for _, c := range text.Cautions(unit.Metric) {
		if c.Title == "" || c.Risk == "" || c.Instead == "" || c.Decides == "" {
			t.Errorf("caution %q lacks a part", c.Title)
		}
		all.WriteString(strings.ToLower(c.Title + " " + c.Risk + " " + c.Instead + " " + c.Decides + " "))
	}
	for _, word := range []string{"fibre", "dust", "fire", "film", "foam", "overhead|over heads", "fix", "heater", "socket", "vent", "escape", "damp", "hearing", "lift"} {
		found := false
		for _, w := range strings.Split(word, "|") {
			found = found || strings.Contains(all.String(), w)
		}
		if !found {
			t.Errorf("no caution speaks of %q", word)
		}
	}
}

// Asked for imperial units, no text of ours falls back to metric ones.
func TestImperialIsImperial(t *testing.T) {
	in := sofaInput(0.25)
	in.Full = true
	in.Stability = drawnInput(true).Stability
	in.Stability.Interpolated, in.Stability.Wool = true, true
	in.Result.Facings = facedInput(1.5).Result.Facings
	in.Project.Listening.BackDistance = 2.5 // so that the present seat breaks a rule by a length
	if check := room.Text(fixtureUnderstood(in), unit.Imperial); !strings.Contains(check, text.BreachesHeading) {
		t.Errorf("no broken rule in:\n%s", check)
	}
	in.Style = unit.Imperial
	page := regexp.MustCompile(`(?s)<pre>.*?</pre>|<script.*?</script>`).ReplaceAllString(reporttest.Written(t, Page, in), "")
	for _, words := range []string{
		Text(in.in(unit.Imperial)), prediction.Text(fixtureForecast(in), unit.Imperial), room.Text(fixtureUnderstood(in), unit.Imperial), page,
	} {
		reporttest.CheckImperial(t, words)
	}
}

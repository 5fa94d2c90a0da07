package whatif

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/whatif"
	"evenbass/report/html"
	"evenbass/report/reporttest"
	"evenbass/report/svg"
	"evenbass/report/unit"
)

// whatIfFixture is a comparison of invented figures.
func whatIfFixture() Report {
	p := reporttest.Project()
	state := func(name string, spread model.Level, fall float64) whatif.State {
		v := whatif.State{Name: name, Project: p}
		for i, f := range []float64{31.5, 63, 125} {
			v.Decay = append(v.Decay, response.Decay{Band: f, Fall20: fall, Fall30: 1.5 * fall, Filter: 0.07 / float64(i+1)})
		}
		for c := range v.Judgement.Figures {
			v.Judgement.Figures[c] = response.Figures{Goal: p.Goal, Spread: spread}
			v.Card = reporttest.Card(response.Card{Goal: p.Goal, Spread: spread, Deviation: 0.4 * spread, Within: 0.6, Fall: response.FallOf(v.Decay, p.Goal)})
			v.Judgement.Curves[c] = []model.Level{0, -spread, spread}
		}
		return v
	}
	r := &whatif.Comparison{Engine: model.EngineInfo{Kind: model.WaveEngine, Cell: 0.1, Errors: []model.ErrorClaim{{Frequency: 120, Error: 0.2}, {Frequency: 300, Error: 1}}}, Goal: p.Goal, Grid: model.Grid{40, 80, 160}, Now: state("", 12, 0.25)}
	better, worse := state("add a <deep> layer", 9, 0.12), state("remove the cloud", 12.6, 0.31)
	better.Cured = []whatif.DipChange{{Frequency: 64, Channel: response.BothTogether, Before: -12, After: -5}}
	better.Floor = 0.42
	worse.Created = []whatif.DipChange{{Frequency: 112, Channel: response.LeftAlone, Before: 1, After: -7}}
	worse.LowEnd = -1.4
	worse.Breaches = []model.Rule{{Kind: model.SpeakerObstacle, Name: "bag"}}
	r.States = []whatif.State{better, worse}
	return Report{Project: p, Result: r}
}

func TestWhatIfText(t *testing.T) {
	t.Parallel()
	w := whatIfFixture()
	reporttest.Golden(t, "whatif-short.txt", Text(w))
	reporttest.CheckFits(t, Text(w))
	w.Full = true
	reporttest.Golden(t, "whatif-metric.txt", Text(w))
	w.Style, w.Project.Warnings = unit.Imperial, w.Project.FindWarnings()
	reporttest.CheckImperial(t, Text(w))
}

// What the prediction cannot tell is not sold as a gain, what got worse is said, and decay counts
// where the spread is the same.
func TestWhatIfHeadline(t *testing.T) {
	t.Parallel()
	w := whatIfFixture()
	if got := w.headline(); !strings.Contains(got, "A (add a <deep> layer) evens out the bass from ±12.0 to ±9.0 dB, whatever the walls.") {
		t.Error(got)
	}
	w.Result.States[0].Card.Fall.Mean = 0.4
	if got := w.headline(); !strings.Contains(got, "; but the mean 20 dB decay takes 400 ms instead of ") {
		t.Error(got)
	}
	w.Result.States[0].Card = w.Result.Now.Card
	if got := w.headline(); !strings.Contains(got, "none of these makes the bass better by as much as can be told and heard") {
		t.Error(got)
	}
	w.Result.States[0].Card.Fall.Mean = 0.2
	if got := w.headline(); !strings.Contains(got, "A (add a <deep> layer) leaves the spread about the same") {
		t.Error(got)
	}
	w.Result.States = nil
	if got := w.headline(); !strings.HasPrefix(got, "The spread is now") {
		t.Error(got)
	}
}

// The page holds a graph and a difference for each option, one for each channel behind it, and names from outside as text only.
func TestWhatIfPage(t *testing.T) {
	t.Parallel()
	text := reporttest.Written(t, Page, whatIfFixture())
	for _, want := range []string{`id="option-left-1-drawing"`, `id="difference-2-drawing"`, `id="channel-both-2-drawing"`, `id="channel-right-1-drawing"`, "add a &lt;deep&gt; layer", "Fibres and dust", `id="option-1-title"`} {
		if !strings.Contains(text, want) {
			t.Errorf("the page lacks %s", want)
		}
	}
	reporttest.CheckWhole(t, text, 6)
	attacked := whatIfFixture()
	attacked.Project.Room.Name, attacked.Result.Engine.Kind, attacked.Result.States[0].Name = reporttest.Hostile, reporttest.Hostile, reporttest.Hostile
	attacked.Result.States[1].Breaches = []model.Rule{{Kind: model.SpeakerObstacle, Name: reporttest.Hostile}}
	attacked.Run = html.Run{Command: reporttest.Hostile, Version: reporttest.Hostile, Source: reporttest.Hostile, File: reporttest.Hostile}
	reporttest.CheckHarmless(t, text, reporttest.Written(t, Page, whatIfFixture()), reporttest.Written(t, Page, attacked))
}

// The difference is how much the option's curve is above the present one, each about its mean;
// read back from the drawing by its own frame.
func TestWhatIfDifference(t *testing.T) {
	t.Parallel()
	w := whatIfFixture()
	d := newOptions(&w)[0].Difference
	var left, top, right, bottom, from, to, low, high float64
	if _, err := fmt.Sscan(d.Frame, &left, &top, &right, &bottom, &from, &to, &low, &high); err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(d.Shapes, func(s svg.Shape) bool { return s.Kind == "path" && s.Class == "curve result" })
	fields := strings.Fields(strings.NewReplacer("M", " ", "L", " ").Replace(d.Shapes[i].D))
	for k, want := range []float64{0, 3, -3} { // 0, -9, 9 less 0, -12, 12
		var y float64
		if _, err := fmt.Sscan(fields[2*k+1], &y); err != nil {
			t.Fatal(err)
		}
		if got := low + (bottom-y)/(bottom-top)*(high-low); math.Abs(got-want) > 0.06 {
			t.Errorf("point %d: %.2f dB, want %v", k, got, want)
		}
	}
}

// On its plan, a new piece stands out, one that stays does not, and one that is gone is dotted.
func TestWhatIfPlanMarksChanges(t *testing.T) {
	t.Parallel()
	w := whatIfFixture()
	piece := func(name string, along float64) model.Treatment {
		return model.Treatment{Name: name, Patch: model.Patch{Face: model.Back, Along: along, Width: 0.5, Height: 2}, Layers: []model.Layer{{Kind: model.PorousLayer, Thickness: 0.1}}}
	}
	w.Project.Room.Treatments = []model.Treatment{piece("stays", 0.2), piece("goes", 1)}
	after := *w.Project
	after.Room.Treatments = []model.Treatment{piece("stays", 0.2), piece("comes", 2)}
	w.Result.States[0].Project = &after
	count := map[string]int{}
	for _, s := range w.plan(0).Shapes {
		count[s.Class]++
	}
	if count["treatment"] != 1 || count["treatment changed"] != 1 || count["gone"] != 1 {
		t.Errorf("drawn are %v", count)
	}
}

// A table that cannot hold all options names those that it leaves out: an option that is best in a
// figure stays, however large its spread, and spread decides among the rest.
func TestUnshown(t *testing.T) {
	t.Parallel()
	w := Report{Result: &whatif.Comparison{States: make([]whatif.State, 6)}}
	for i, spread := range []model.Level{9, 4, 5, 12, 3, 6} {
		w.Result.States[i].Card.Spread = spread
	}
	if got := w.unshown(w.leading()); !slices.Equal(got, []string{"A", "D"}) {
		t.Errorf("left out are %v, want A and D", got)
	}
	w.Result.States[3].Card.Within = 0.8
	if got := w.unshown(w.leading()); !slices.Equal(got, []string{"A", "F"}) {
		t.Errorf("with most of the band within ±6 dB in D, left out are %v, want A and F", got)
	}
	w.Result.States[0].Card.Within = 0.8
	if got := w.unshown(w.leading()); !slices.Equal(got, []string{"A", "D"}) {
		t.Errorf("with A and D equal, left out are %v, want A and D", got)
	}
	if got := w.unshown(w.all()); len(got) > 0 {
		t.Errorf("left out of all are %v", got)
	}
}

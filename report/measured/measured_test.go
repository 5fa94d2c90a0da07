package measured

import (
	"bytes"
	"encoding/json"
	"math"
	"math/rand/v2"
	"strings"
	"sync"
	"testing"

	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/model/measure/analysis"
	"evenbass/model/measure/comparison"
	"evenbass/model/measure/resonance"
	"evenbass/model/response"
	"evenbass/report/reporttest"
)

var goal = model.Goal{From: 30, To: 300, Smoothing: 12}

// response of a made-up room: direct sound, an echo, modes that decay at so many times their
// rates.
func madeUp(s model.Source, damping, echo float64) *measure.Measurement {
	const rate, begin = 2000.0, 300
	x := make([]float64, 4000)
	random := rand.New(rand.NewPCG(uint64(100*damping), uint64(s)))
	x[begin], x[begin+5] = 1, echo
	for i := range x {
		if t := float64(i-begin) / rate; t > 0 {
			for _, m := range [][3]float64{{41, 6, 0.03}, {66, 9, 0.04}, {110, 8, 0.03}} {
				x[i] += m[2] * math.Exp(-m[1]*damping*t) * math.Cos(2*math.Pi*m[0]*t)
			}
		}
		x[i] += 1e-4 * random.NormFloat64()
	}
	return &measure.Measurement{
		Name: "made up", Seat: "chair", Speaker: s, Temperature: 293.15, StateKnown: true, Unsure: measure.GainUnknown,
		Impulse: &measure.Impulse{Samples: x, Rate: rate, Zero: begin},
	}
}

// states are left and right before, and left after damping.
var states = sync.OnceValue(func() [3]*analysis.Analysis {
	var list [3]*analysis.Analysis
	for i, m := range []*measure.Measurement{madeUp(model.LeftSpeaker, 1, 0.8), madeUp(model.RightSpeaker, 1, 0.1), madeUp(model.LeftSpeaker, 3, 0.8)} {
		a, err := analysis.New(m, goal)
		if err != nil {
			panic(err)
		}
		list[i] = a
	}
	return list
})

func compared(t *testing.T, a, b *analysis.Analysis) Comparison {
	t.Helper()
	c, err := comparison.New(a, b, response.Resolution{})
	if err != nil {
		t.Fatal(err)
	}
	return Comparison{Room: "Box", Names: [2]string{"bare", "with wool"}, Result: c}
}

// holds fails unless a text has all the parts, and none of those that begin with "!".
func holds(t *testing.T, what, got string, parts ...string) {
	t.Helper()
	for _, p := range parts {
		unwanted := strings.HasPrefix(p, "!")
		if strings.Contains(got, strings.TrimPrefix(p, "!")) == unwanted {
			t.Errorf("%s: %q in\n%.3000s", what, p, got)
		}
	}
}

// squeezed joins lines, so that a test does not depend on where they break.
func squeezed(s string) string { return strings.Join(strings.Fields(s), " ") }

func TestComparisonText(t *testing.T) {
	t.Parallel()
	s := states()
	holds(t, "damped", squeezed(ComparisonText(compared(t, s[0], s[2]))),
		"Better:", "none got worse", "Before: bare. After: with wool.", "better", "dB louder on average", "aligned by their means")
	same := squeezed(ComparisonText(compared(t, s[0], s[0])))
	holds(t, "same", same, "No difference that counts.", "The comparison is fair", "!better", "!worse ")
	holds(t, "undamped", squeezed(ComparisonText(compared(t, s[2], s[0]))), "Worse:", "none improved")
	holds(t, "other speaker", squeezed(ComparisonText(compared(t, s[0], s[1]))), "No fair comparison", "Not the same speaker played: left, then right")
}

func TestComparisonPage(t *testing.T) {
	t.Parallel()
	s := states()
	var first, again bytes.Buffer
	r := compared(t, s[0], s[2])
	for _, b := range []*bytes.Buffer{&first, &again} {
		if err := ComparisonPage(b, r); err != nil {
			t.Fatal(err)
		}
	}
	if first.String() != again.String() {
		t.Error("the same comparison gives another page")
	}
	holds(t, "page", first.String(), `id="fading-a-drawing"`, `id="fading-b-drawing"`, `id="fading-ridges-drawing"`, `class="area loud-8"`, "--loud-10:", `id="curves-difference-drawing"`,
		"Decay", "66.0", "−67 %", "ISO 3382-2", "Gain: levels are relative", "!<nil>", "!NaN", "!%!")
}

func TestComparisonJSON(t *testing.T) {
	t.Parallel()
	s := states()
	b := reporttest.Written(t, ComparisonJSON, compared(t, s[0], s[2]))
	var got struct {
		Fair    bool
		Figures map[string]*struct {
			Before, After float64
			Mark          string
		}
		Modes map[string][]struct {
			Hz float64
		}
	}
	if err := json.Unmarshal([]byte(b), &got); err != nil {
		t.Fatal(err)
	}
	spread := got.Figures["spread_db"]
	if spread == nil || math.Abs(spread.Before-float64(s[0].Card.Spread)) > 1e-3 || math.Abs(spread.After-float64(s[2].Card.Spread)) > 1e-3 || !got.Fair {
		t.Errorf("spread %+v, fair %v", spread, got.Fair)
	}
	if len(got.Figures) != len(response.FigureList) || len(got.Modes["before"]) != 3 {
		t.Errorf("%d figures, modes %v", len(got.Figures), got.Modes)
	}
}

// A prediction is held against a measurement by how far the curves are apart, and the decay where it is known.
func TestAgreement(t *testing.T) {
	t.Parallel()
	s := states()
	grid, air := model.NewGrid(20, 315, 96, 0.5), model.AirAt(0)
	p, err := madeUp(model.LeftSpeaker, 1, 0.8).Transfer(grid, air)
	if err != nil {
		t.Fatal(err)
	}
	r := compared(t, analysis.Predict(response.LeftAlone, grid, p, nil, air, goal), s[0])
	r.Engine = "Calculated by hand."
	holds(t, "agreement", squeezed(ComparisonText(r)), "The prediction fits the levels in this room well", "predicted measured", "agrees", "Two agree unless they differ by more", "!A change counts", "Calculated by hand.", "!the decay")
	over, err := madeUp(model.LeftSpeaker, 1, 0.8).Transfer(response.DecayGrid(), air)
	if err != nil {
		t.Fatal(err)
	}
	whole := analysis.Predict(response.LeftAlone, grid, p, over, air, goal)
	holds(t, "levels and decay", squeezed(ComparisonText(compared(t, whole, s[0]))), "The prediction fits this room well: the curves differ by 0.0 dB on average, by ", "; the mean 20 dB decay is 171 ms predicted and 171 ms measured.")
	made := *s[0]
	m := *made.Measurement
	m.Notes = []string{measure.InventedNote}
	made.Measurement = &m
	holds(t, "invented", squeezed(ComparisonText(compared(t, whole, &made))), "predicted invented", "171 ms predicted and 171 ms invented", "!predicted measured")
	holds(t, "invented before", squeezed(ComparisonText(compared(t, &made, whole))), "invented predicted", "171 ms predicted and 171 ms invented")
	holds(t, "one of two invented", squeezed(ComparisonText(compared(t, s[0], &made))), "Before: bare. After: with wool (invented).", "before after")
	far := compared(t, analysis.Predict(response.LeftAlone, grid, p, nil, air, goal), s[2])
	holds(t, "far", squeezed(ComparisonText(far)), "differs")
}

func TestPage(t *testing.T) {
	t.Parallel()
	s := states()
	r := Report{Room: "Box", Analyses: []*analysis.Analysis{s[0], s[1]}}
	b := reporttest.Written(t, Page, r)
	holds(t, "page", b, "Measured: ±", "Left less right", "Left and right differ by", `id="fading-sides-a-drawing"`, `id="fading-sides-b-drawing"`,
		"a mode at 41.0 Hz", "Next: ", "modes found", "EDT", "!<nil>", "!NaN", "!%!")
	invented := *s[0]
	m := *s[0].Measurement
	m.Notes = []string{measure.InventedNote + ". Its response is computed"}
	invented.Measurement = &m
	b = reporttest.Written(t, Page, Report{Room: "Box", Analyses: []*analysis.Analysis{&invented}})
	holds(t, "invented page", b, "Invented, not measured: ±", "invented, not measured", "!Measured: ±", "!measured, not predicted")
	alone := squeezed(Text(Report{Analyses: []*analysis.Analysis{s[0]}}))
	holds(t, "text", alone, "cause unknown; the other speaker was not measured", "Next: measure the other speaker")
}

// A change is held against its prediction in text, page and JSON.
func TestPromise(t *testing.T) {
	t.Parallel()
	s := states()
	r := compared(t, s[0], s[2])
	r.PredictedChange = comparison.NewPredictedChange(r.Result, compared(t, s[0], s[0]).Result, r.Result)
	holds(t, "text", squeezed(ComparisonText(r)), "Was the change as predicted? 7 of 7 figures changed as predicted.", "as predicted", "points", " ms", "!less than")
	var page, data bytes.Buffer
	if err := ComparisonPage(&page, r); err != nil {
		t.Fatal(err)
	}
	holds(t, "page", page.String(), `id="predicted-change-difference-drawing"`, "from hard to soft walls")
	if err := ComparisonJSON(&data, r); err != nil {
		t.Fatal(err)
	}
	holds(t, "JSON", data.String(), `"predicted_change"`, `"outcome": "as predicted"`)
	r.PredictedChange = comparison.NewPredictedChange(r.Result, compared(t, s[0], s[0]).Result)
	holds(t, "more", squeezed(ComparisonText(r)), "did better", "better than predicted")
}

// A mode that wool lowers by 3 % is the same mode; one that is 8 % away is another.
func TestPairModes(t *testing.T) {
	t.Parallel()
	before := []resonance.Mode{{Frequency: 39.1, Rate: 7}, {Frequency: 100, Rate: 8}}
	after := []resonance.Mode{{Frequency: 35.9, Rate: 9}, {Frequency: 37.8, Rate: 10}, {Frequency: 92, Rate: 40}}
	list := pairModes(before, after)
	if len(list) != 2 || list[0].after != &after[1] || list[1].after != nil {
		t.Errorf("%+v", list)
	}
}

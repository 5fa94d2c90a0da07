package live

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"testing"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/engines"
	"evenbass/optimize/series"
	"evenbass/report/reporttest"
	"evenbass/report/text"
)

// answer is what the page says of a layout.
type answer struct {
	Spread, Deviation, Within, Low float64
	Dip                            struct{ Frequency, Level float64 }
	Curves                         [3][]float64 // over the grid
	Broken                         []breach
	Took                           float64 // ms
}

// breach is a broken rule as the page finds it.
type breach struct {
	What          string
	Amount, Angle float64
}

const ask = `(async () => {
	await live.trial.ready;
	return JSON.stringify(%s.map(l => {
		const before = performance.now();
		live.trial.set(l);
		const took = performance.now() - before, c = live.trial.card;
		return {Spread: c.spread, Deviation: c.deviation, Within: c.within, Low: c.low, Dip: c.dip, Took: took, Broken: live.trial.broken,
			Curves: c.channels.map(f => Array.from(f.curve).filter((v, i) => i %% 2 === 0))};
	}));
})()`

func answers(t *testing.T, b *reporttest.Tab, layouts []model.Layout) []answer {
	t.Helper()
	var list []layout
	for _, l := range layouts {
		list = append(list, layout{"", placeOf(l.Left), placeOf(l.Right), placeOf(l.Seat)})
	}
	question, err := json.Marshal(list)
	if err != nil {
		t.Fatal(err)
	}
	said := reporttest.Value[string](t, b, fmt.Sprintf(ask, question))
	var out []answer
	if err := json.Unmarshal([]byte(said), &out); err != nil {
		t.Fatal(err)
	}
	return out
}

// testAgreement holds the page to the program.
func testAgreement(t *testing.T, b *reporttest.Tab, r room, layouts []model.Layout) {
	t.Helper()
	var worst, spread float64
	var broken int
	var took []float64
	for i, got := range answers(t, b, layouts) {
		pair, want := r.at(t, layouts[i])
		worst = max(worst, float64(series.Difference(r.table.Grid(), &want, got.judgement())))
		card := r.reader.Card(pair, nil)
		for name, off := range map[string]float64{
			"spread": (got.Spread - float64(card.Spread)) / max(1, float64(card.Spread)/10), "deviation": got.Deviation - float64(card.Deviation),
			"dip": (got.Dip.Level - float64(card.Dip.Level)) / max(1, -float64(card.Dip.Level)/10), "low octave": got.Low - float64(card.LowOctave),
			"share": 10 * (got.Within - card.Within),
		} {
			if math.Abs(off) > float64(series.Accuracy) {
				t.Errorf("layout %d: the page's %s is off by %.3f; the program says %+v", i, name, off, card)
			}
		}
		spread = max(spread, math.Abs(got.Spread-float64(card.Spread)))
		broken += len(got.Broken)
		sameBreaches(t, got.Broken, r.study.Project.Breaches(layouts[i]))
		took = append(took, got.Took)
	}
	t.Logf("levels within %.3f dB, spreads within %.3f dB, %d rules broken", worst, spread, broken)
	if worst > float64(series.Accuracy+engines.Tolerance) { // the page holds whole runs, the program's end when levels have converged
		t.Errorf("levels are off by up to %.3f dB", worst)
	}
	if broken < len(layouts)/2 {
		t.Errorf("only %d rules are broken, so they were hardly tried", broken)
	}
	slices.Sort(took)
	t.Logf("a step of up to %.2g products takes %.1f ms, of every ten the fastest %.1f ms", float64(r.table.Work()), took[len(took)/2], took[len(took)/10])
	if fast := took[len(took)/10]; fast > 16 { // other work on the machine slows the rest
		t.Errorf("a step takes %.1f ms, a frame has 16", fast)
	}
}

// judgement returns the page's curves in the program's form.
func (a answer) judgement() *response.Judgement {
	j := new(response.Judgement)
	for c, curve := range a.Curves {
		for _, l := range curve {
			j.Curves[c] = append(j.Curves[c], model.Level(l))
		}
	}
	return j
}

func sameBreaches(t *testing.T, got []breach, want []model.Breach) {
	t.Helper()
	if len(got) != len(want) {
		t.Errorf("the page finds %+v, the program %+v", got, want)
		return
	}
	for i, b := range want {
		if g := got[i]; g.What != text.RuleText(b.Rule) || math.Abs(g.Amount-b.Amount) > 1e-6 || math.Abs(g.Angle-b.Angle) > 1e-6 {
			t.Errorf("the page finds %+v, the program %+v", g, b)
		}
	}
}

package live

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"evenbass/model"
	"evenbass/model/roomfile"
	"evenbass/optimize/engines"
	"evenbass/optimize/score"
	"evenbass/optimize/study"
	"evenbass/report/reporttest"
	"evenbass/report/unit"
)

// closet has one option that is built, and one that cannot be.
const closet = `
room: {length: 2.9 m, width: 2.3 m, height: 2.2 m}
walls: {front: plasterboard on studs, back: plasterboard on studs, left: plasterboard on studs, right: plasterboard on studs, floor: carpet on joists, ceiling: plasterboard on joists}
speakers:
  now: {left: [0.5 m, 0.6 m, 1.1 m], right: [0.5 m, 1.7 m, 1.1 m]}
  may_stand: [{x: 0.4 m to 0.7 m, y: 0.4 m to 1.9 m}]
seats: [{name: chair, at: [1.5 m, 1.15 m, 1.1 m], may_move: [{x: 1.4 m to 1.6 m}]}]
options:
  - {name: rear <b>layer</b>, add: [{name: rear layer, wall: back, layers: [wool 300 mm 6 kPa·s/m²]}]}
  - {name: brick, walls: {left: brick plastered}}
`

// With an option switched on, the page says what the program says of the room with it, at places all over the zones;
// switched off, what it said before.
func TestOptions(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	p, err := roomfile.Read(strings.NewReader(closet), "closet.yaml")
	if err != nil {
		t.Fatal(err)
	}
	s, err := study.New(ctx, engines.Auto, p)
	if err != nil {
		t.Fatal(err)
	}
	now, _ := p.Now()
	table, err := s.Series(ctx, now)
	if err != nil {
		t.Fatal(err)
	}
	variants, warnings, err := s.Variants(ctx, table, now.Seat, nil)
	if err != nil || len(variants) != 2 || len(warnings) != 0 || variants[0].Engine != model.WaveEngine || variants[1].Engine != model.ModeEngine {
		t.Fatalf("the options give %d tables, %v, %v", len(variants), warnings, err)
	}
	plain := room{s, table, score.NewReader(s.Engine, p)}
	r := plain.report(t, unit.Metric)
	for _, v := range variants {
		r.Options = append(r.Options, Option{v.Option, v.Engine, v.Table})
	}
	b := reporttest.NewTab(t, reporttest.NewBrowser(t))
	b.Run(t, chromedp.Navigate(pageFile(t, r)))
	layouts := plain.layouts(12, 3)
	before := answers(t, b, layouts)
	for i := range variants {
		with, err := p.With(&p.Options[i])
		if err != nil {
			t.Fatal(err)
		}
		built, err := study.New(ctx, engines.Auto, with)
		if err != nil {
			t.Fatal(err)
		}
		build(t, b, i)
		testAgreement(t, b, room{built, variants[i].Table, score.NewReader(built.Engine, with)}, layouts)
		if got := reporttest.Value[string](t, b, `document.getElementById("live-channel").textContent`); !strings.Contains(got, "with "+variants[i].Option) {
			t.Errorf("the graph does not name the option: %q", got)
		}
	}
	build(t, b, -1)
	for i, got := range answers(t, b, layouts) {
		if got.Spread != before[i].Spread {
			t.Errorf("switched off, layout %d has a spread of %g, before %g", i, got.Spread, before[i].Spread)
		}
	}
	b.CheckBarriers(t)
	b.Quiet(t)
}

// build switches an option on as a reader does, and waits until it shows.
func build(t *testing.T, b *reporttest.Tab, option int) {
	t.Helper()
	expression := fmt.Sprintf(`(async () => {
		await live.trial.ready;
		document.querySelector("[name=live-option][value='%d']").click();
		await live.trial.built[%[1]d];
		await new Promise(r => setTimeout(r, 0));
		return live.trial.option;
	})()`, option)
	got, err := chromedp.Run(b.Context, chromedp.Evaluate[int](expression, chromedp.EvalAwaitPromise))
	if err != nil || got != option {
		t.Fatalf("option %d is on, want %d: %v", got, option, err)
	}
}

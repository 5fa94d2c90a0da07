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

// With one option switched on, or two, the page says what the program says of the room with them, at places
// all over the zones; switched off, what it said before. A page that holds no pairs replaces one by the other.
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
	variants, warnings, err := s.Variants(ctx, table, now.Seat, true, nil)
	if err != nil || len(variants) != 3 || len(warnings) != 0 || variants[0].Engine != model.WaveEngine || variants[1].Engine != model.ModeEngine || len(variants[2].Options) != 2 {
		t.Fatalf("the options give %d tables, %v, %v", len(variants), warnings, err)
	}
	plain := room{s, table, score.NewReader(s.Engine, p)}
	r := plain.report(t, unit.Metric)
	for _, v := range variants {
		r.Options = append(r.Options, Option{v.Options, v.Engine, v.Table})
	}
	b := reporttest.NewTab(t, reporttest.NewBrowser(t))
	b.Run(t, chromedp.Navigate(pageFile(t, r)))
	layouts := plain.layouts(12, 3)
	before := answers(t, b, layouts)
	both, _ := p.Options[0].And(&p.Options[1])
	for i, parts := range [][]int{{0}, {1}, {0, 1}} {
		with, err := p.With(&append(p.Options, both)[i])
		if err != nil {
			t.Fatal(err)
		}
		built, err := study.New(ctx, engines.Auto, with)
		if err != nil {
			t.Fatal(err)
		}
		switchOn(t, b, parts...)
		testAgreement(t, b, room{built, variants[i].Table, score.NewReader(built.Engine, with)}, layouts)
		if got := reporttest.Value[string](t, b, `document.getElementById("live-channel").textContent`); !strings.Contains(got, "with "+strings.Join(variants[i].Options, " and ")+", ") {
			t.Errorf("the graph does not name the option: %q", got)
		}
	}
	switchOn(t, b)
	for i, got := range answers(t, b, layouts) {
		if got.Spread != before[i].Spread {
			t.Errorf("switched off, layout %d has a spread of %g, before %g", i, got.Spread, before[i].Spread)
		}
	}
	b.CheckBarriers(t)
	r.Options = r.Options[:2]
	b.Run(t, chromedp.Navigate(pageFile(t, r)))
	switchOn(t, b, 0)
	reporttest.Value[bool](t, b, `document.querySelector("[name=live-option][value='1']").click(), true`)
	if got := reporttest.Value[string](t, b, switchedOn); got != "1" {
		t.Errorf("without pairs %q are on, want the later", got)
	}
	b.Quiet(t)
}

// switchedOn is an expression for the options that are ticked.
const switchedOn = `[...document.querySelectorAll("[name=live-option]:checked")].map(b => b.value).join()`

// switchOn switches options on, and others off, as a reader does, and waits until that shows.
func switchOn(t *testing.T, b *reporttest.Tab, options ...int) {
	t.Helper()
	want := strings.Trim(strings.ReplaceAll(fmt.Sprint(options), " ", ","), "[]")
	expression := fmt.Sprintf(`(async () => {
		await live.trial.ready;
		document.querySelectorAll("[name=live-option]").forEach(b => { if (b.checked != [%s].includes(Number(b.value))) b.click(); });
		await live.trial.built["%[1]s"];
		await new Promise(r => setTimeout(r, 0));
		return String(live.trial.parts) + " " + %s;
	})()`, want, switchedOn)
	got := reporttest.Value[string](t, b, expression)
	if got != want+" "+want {
		t.Fatalf("options %s are on, want %q twice", got, want)
	}
}

package live

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/engines"
	"evenbass/optimize/geometry"
	"evenbass/optimize/score"
	"evenbass/optimize/series"
	"evenbass/optimize/study"
	"evenbass/optimize/testroom"
	"evenbass/report/html"
	"evenbass/report/reporttest"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// page is a page with nothing but the part.
type page struct {
	Live *View
	html.Frame
}

const body = `{{define "body"}}{{with .Live}}{{template "live" .}}{{end}}{{end}}`

func writePage(w io.Writer, v *View) error {
	p := &page{Live: v, Frame: html.Frame{Heading: "Room", About: "test"}}
	return html.Render(w, p, "", Files(), Scripts(), fstest.MapFS{"body.gohtml": {Data: []byte(body)}})
}

// room is a room with what the program says of it.
type room struct {
	study  *study.Study
	table  *series.Table
	reader *response.Reader
}

func newRoom(t *testing.T, name string) room {
	t.Helper()
	s, err := study.New(context.Background(), engines.Auto, testroom.Read(t, name))
	if err != nil {
		t.Fatal(err)
	}
	now, _ := s.Project.Now()
	table, err := s.Series(context.Background(), now)
	if err != nil {
		t.Fatal(err)
	}
	return room{s, table, score.NewReader(s.Engine, s.Project)}
}

// at returns what the program says of a layout.
func (r room) at(t *testing.T, l model.Layout) (response.Pair, response.Judgement) {
	t.Helper()
	f, err := r.study.Engine.Field(context.Background(), l.Seat)
	if err != nil {
		t.Fatal(err)
	}
	pair := response.Pair{Left: f.Transfer(nil, l.Left), Right: f.Transfer(nil, l.Right)}
	return pair, r.reader.Judge(pair)
}

// report has the present layout and one moved from it.
func (r room) report(t *testing.T, s unit.Style) *Report {
	t.Helper()
	now, _ := r.study.Project.Now()
	moved := now
	moved.Seat.X = r.table.Domain.Seats.X.Hi - 0.13
	out := &Report{Project: r.study.Project, Table: r.table, Start: 1, Style: s, Modes: []Mode{{Name: "(1,0,0)", Frequency: 39.8, Width: 3}}}
	for i, l := range []model.Layout{now, moved} {
		_, j := r.at(t, l)
		out.Layouts = append(out.Layouts, Layout{Name: []string{"now", "layout 1"}[i], Layout: l, Judgement: &j})
	}
	return out
}

// layouts returns n layouts scattered over the table, of so many seats, many at its edges. They
// keep no rules.
func (r room) layouts(n, seats int) []model.Layout {
	rng := rand.New(rand.NewPCG(3, 4))
	within := func(s geometry.Span) float64 { return s.Lo + max(0, min(1, 1.3*rng.Float64()-0.15))*s.Length() }
	d := &r.table.Domain
	var list []model.Layout
	var seat r3.Vec
	for len(list) < n {
		if len(list)%(n/seats) == 0 {
			seat = r3.Vec{X: within(d.Seats.X), Y: within(d.Seats.Y), Z: d.Ears}
		}
		z := d.Heights[rng.IntN(len(d.Heights))]
		place := func(i int) r3.Vec {
			a := d.Sources[i]
			return r3.Vec{X: within(a.X), Y: within(a.Y), Z: z}
		}
		l := model.Layout{Left: place(0), Right: place(len(d.Sources) - 1), Seat: seat}
		if r3.Norm(r3.Sub(l.Left, seat)) > model.LeastDistance && r3.Norm(r3.Sub(l.Right, seat)) > model.LeastDistance {
			list = append(list, l)
		}
	}
	return list
}

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
	said, err := chromedp.Run(b.Context, chromedp.Evaluate[string](fmt.Sprintf(ask, question), chromedp.EvalAwaitPromise))
	if err != nil {
		t.Fatal(err)
	}
	var out []answer
	if err := json.Unmarshal([]byte(said), &out); err != nil {
		t.Fatal(err)
	}
	return out
}

// The page in a real browser: it says what the program says at 50 places of a room, in curves,
// figures and broken rules, within a frame, and follows mouse, finger and keys.
func TestBrowser(t *testing.T) {
	browser := reporttest.NewBrowser(t)
	for _, c := range []struct {
		room  string
		seats int // each takes a run of the wave solver
	}{{"spare-room", 25}, {"treated-room", 5}} {
		t.Run(c.room, func(t *testing.T) {
			r := newRoom(t, c.room)
			b := reporttest.NewTab(t, browser)
			b.Run(t, chromedp.Navigate(r.file(t, unit.Metric)))
			testAgreement(t, b, r, r.layouts(50, c.seats))
			b.Quiet(t)
			if c.room == "spare-room" {
				t.Run("drag", func(t *testing.T) { testDragging(t, b) })
				t.Run("reading", func(t *testing.T) { testReading(t, b) })
				t.Run("barriers", b.CheckBarriers)
				t.Run("rules", func(t *testing.T) { testRules(t, b) })
				t.Run("imperial", func(t *testing.T) { testImperial(t, reporttest.NewTab(t, browser), r) })
			}
		})
	}
}

func (r room) file(t *testing.T, s unit.Style) string {
	t.Helper()
	return pageFile(t, r.report(t, s))
}

func pageFile(t *testing.T, r *Report) string {
	t.Helper()
	v, err := NewView(r)
	if err != nil {
		t.Fatal(err)
	}
	return reporttest.File(t, func(w io.Writer) error { return writePage(w, v) }, html.ErrNoLibrary)
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
	if worst > float64(series.Accuracy) {
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

// testRules tries the rules of rooms that are no box, with inner corners, slopes, obstacles and
// other seats, at places all over them and beyond.
func testRules(t *testing.T, b *reporttest.Tab) {
	for _, name := range []string{"l-room", "sloped-attic", "spare-room", "attic-free"} {
		p := testroom.Read(t, name)
		furnish(p)
		rng := rand.New(rand.NewPCG(5, 6))
		place := func(z float64) r3.Vec {
			return r3.Vec{X: (1.2*rng.Float64() - 0.1) * p.Room.Size.X, Y: (1.2*rng.Float64() - 0.1) * p.Room.Size.Y, Z: z}
		}
		var layouts []model.Layout
		var list []layout
		for range 100 {
			z := 0.4 + 1.4*rng.Float64()
			l := model.Layout{Left: place(z), Right: place(z), Seat: place(1.2)}
			layouts, list = append(layouts, l), append(list, layout{"", placeOf(l.Left), placeOf(l.Right), placeOf(l.Seat)})
		}
		question, err := json.Marshal(struct {
			Rules   rules
			Layouts []layout
		}{newRules(p), list})
		if err != nil {
			t.Fatal(err)
		}
		said := reporttest.Value[string](t, b, `(q => JSON.stringify(q.Layouts.map(l => live.breaches(q.Rules, l))))(`+string(question)+`)`)
		var found [][]breach
		if err := json.Unmarshal([]byte(said), &found); err != nil {
			t.Fatal(err)
		}
		for i, l := range layouts {
			sameBreaches(t, found[i], p.Breaches(l))
		}
	}
}

// furnish puts a desk that goes with the speakers, a table that goes with the seat, a shelf that may
// move by itself, a bench that carries speakers and a mate on the main seat's sofa into a room.
func furnish(p *model.Project) {
	box := func(name string, x, y, z float64, r model.Reach) model.Block {
		return model.Block{Name: name, Min: r3.Vec{X: x, Y: y}, Max: r3.Vec{X: x + 0.8, Y: y + 1.2, Z: z}, Reach: r}
	}
	p.KeepClear = append(p.KeepClear,
		box("a desk", 0.2, 0.8, 0.7, model.Reach{With: model.WithSpeakers}), box("a table", 1.5, 1, 1.4, model.Reach{With: model.WithSeat}),
		box("a shelf", 1.2, 0.5, 1.5, model.Reach{Along: 0.4}), box("a bench", 2, 0.5, 0.4, model.Reach{Carries: true}))
	main := &p.Seats[0]
	if !main.Placed {
		main.Placed, main.At = true, r3.Vec{X: 1.9, Y: 1.6, Z: 1.2}
	}
	main.On = "sofa"
	p.Seats = append(p.Seats, model.Seat{Name: "mate", On: "sofa", Placed: true, At: r3.Add(main.At, r3.Vec{X: 0.1, Y: 0.7}), Height: 1.2})
}

// state is where the seat and the left woofer are on the page, cm, and what it says.
type state struct {
	Seat, LeftX, LeftY, RightY float64
	Spread, Mark, Status       string
}

// settled waits until the page has drawn and spoken.
const settled = `(async () => {
	await live.trial.ready;
	await new Promise(r => setTimeout(r, 500));
	const l = live.trial.shown, cm = v => Math.round(v * 1000) / 10;
	return {Seat: cm(l.seat.x), LeftX: cm(l.left.x), LeftY: cm(l.left.y), RightY: cm(l.right.y),
		Spread: document.querySelector("[data-here=spread]").textContent.split(" dB")[0] + " dB", Mark: document.querySelector("[data-here=spread]").textContent.slice(-1), Status: document.getElementById("live-status").textContent};
})()`

func stateOf(t *testing.T, b *reporttest.Tab) state {
	t.Helper()
	s, err := chromedp.Run(b.Context, chromedp.Evaluate[state](settled, chromedp.EvalAwaitPromise))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// handle returns where a handle is in the window, and how many pixels a metre has.
func handle(t *testing.T, b *reporttest.Tab, id string) (x, y, metre float64) {
	t.Helper()
	v := reporttest.Value[[]float64](t, b, `(() => {
		const svg = document.getElementById("live-plan-drawing"); svg.scrollIntoView({block: "center"});
		const m = document.querySelector("#`+id+` .mark").getScreenCTM();
		return [m.e, m.f, m.a * live.trial.plan.scale];
	})()`)
	return v[0], v[1], v[2]
}

// testDragging moves the seat by mouse, a speaker by finger and the other by keys, then puts
// them back.
func testDragging(t *testing.T, b *reporttest.Tab) {
	b.Run(t, chromedp.EmulateViewport(1120, 900))
	reporttest.Value[bool](t, b, `document.getElementById("live-reset").click(), true`)
	before := stateOf(t, b)
	x, y, metre := handle(t, b, "live-seat")
	mouse := func(kind input.DispatchMouseEventType, dy float64, buttons int64) chromedp.Action[chromedp.Void] {
		return reporttest.Command(input.DispatchMouseEvent, input.DispatchMouseEventParams{Type: kind, X: x, Y: y + dy, Button: "left", Buttons: buttons, ClickCount: 1})
	}
	b.Run(t, mouse("mousePressed", 0, 1), mouse("mouseMoved", -0.1*metre, 1), mouse("mouseMoved", -0.4*metre, 1), mouse("mouseReleased", -0.4*metre, 0))
	dragged := stateOf(t, b)
	if math.Abs(dragged.Seat-before.Seat+40) > 1 || dragged.Spread == before.Spread {
		t.Errorf("the mouse brought the seat from %+v to %+v", before, dragged)
	}
	if !strings.Contains(dragged.Status, "Spread "+dragged.Spread) {
		t.Errorf("screen readers hear %q, the spread is %s", dragged.Status, dragged.Spread)
	}

	x, y, metre = handle(t, b, "live-left")
	touch := func(kind input.DispatchTouchEventType, dx, dy float64) chromedp.Action[chromedp.Void] {
		p := input.DispatchTouchEventParams{Type: kind, TouchPoints: []*input.TouchPoint{}}
		if kind != "touchEnd" {
			p.TouchPoints = append(p.TouchPoints, &input.TouchPoint{X: x + dx, Y: y + dy})
		}
		return reporttest.Command(input.DispatchTouchEvent, p)
	}
	b.Run(t, touch("touchStart", 0, 0), touch("touchMove", 0.05*metre, 0), touch("touchMove", -0.1*metre, 0.2*metre), touch("touchEnd", 0, 0))
	touched := stateOf(t, b)
	if math.Abs(touched.LeftX-dragged.LeftX-20) > 1 || math.Abs(touched.LeftY-dragged.LeftY+10) > 1 || math.Abs(touched.RightY-dragged.RightY-10) > 1 {
		t.Errorf("a finger brought the speakers from %+v to %+v", dragged, touched)
	}

	reporttest.Value[bool](t, b, `document.getElementById("live-right").focus(), true`)
	key := func(name string, shift int64) chromedp.Action[chromedp.Void] {
		return reporttest.Command(input.DispatchKeyEvent, input.DispatchKeyEventParams{Type: "keyDown", Key: name, Modifiers: shift})
	}
	b.Run(t, key("ArrowUp", 8), key("ArrowLeft", 0), key("ArrowLeft", 0))
	pushed := stateOf(t, b)
	if math.Abs(pushed.LeftX-touched.LeftX+10) > 0.6 || math.Abs(pushed.RightY-touched.RightY+2) > 0.6 || math.Abs(pushed.LeftY-touched.LeftY-2) > 0.6 {
		t.Errorf("keys brought the speakers from %+v to %+v", touched, pushed)
	}

	reporttest.Value[bool](t, b, `document.getElementById("live-reset").click(), true`)
	back := stateOf(t, b)
	if back.Seat != before.Seat || back.LeftX != before.LeftX || back.Spread != before.Spread {
		t.Errorf("put back to %+v, was %+v", back, before)
	}
	reporttest.Value[bool](t, b, `document.querySelector("[name=live-start][value='0']").click(), true`)
	if now := stateOf(t, b); now.Mark != "≈" || back.Mark != "✗" && back.Mark != "✓" || now.Seat != 210 || now.LeftX != 36 || now.LeftY != 95 {
		t.Errorf("as things stand is %+v", now)
	}
	lines := reporttest.Value[string](t, b, `document.getElementById("live-lines").textContent`)
	if want := "now: {left: [0.36 m, 0.95 m, 0.98 m], right: [0.36 m, 2.33 m, 0.98 m]}\n"; !strings.Contains(lines, want) || !strings.Contains(lines, "at: [2.1 m, 1.64 m, 1.18 m]") {
		t.Errorf("the lines are\n%s", lines)
	}
	b.Quiet(t)
}

// testReading reads the graph at a mode, at a reflection and by keys, and types a distance.
func testReading(t *testing.T, b *reporttest.Tab) {
	read := func(hz float64) string {
		return reporttest.Value[string](t, b, fmt.Sprintf(`(live.trial.graphs[0].show(%g), document.getElementById("live-reading").textContent)`, hz))
	}
	if got := read(39.5); !strings.HasPrefix(got, "40 Hz: here ") || !strings.Contains(got, ", now ") || !strings.Contains(got, "On the room mode (1,0,0) at 39.8 Hz.") {
		t.Errorf("at a mode the graph says %q", got)
	}
	// Woofers 0.98 m and ears 1.18 m above the floor, (1.74, 0.69) m apart on plan: the way over the floor
	// is 2.860 m, the direct one 1.882 m, half a wave at 175 Hz and 20 °C.
	if got := read(175); !strings.Contains(got, "the floor") || !strings.Contains(got, "arrives half a wave late") || strings.Contains(got, "room mode") {
		t.Errorf("at the floor's reflection the graph says %q", got)
	}
	b.Run(t, reporttest.Command(input.DispatchKeyEvent, input.DispatchKeyEventParams{Type: "keyDown", Key: "Tab"}))
	got := reporttest.Value[string](t, b, `(() => {
		const area = live.trial.graphs[0].area; live.trial.graphs[0].show(100);
		area.dispatchEvent(new KeyboardEvent("keydown", {key: "ArrowRight"}));
		return area.getAttribute("aria-valuenow") + " " + area.getAttribute("aria-valuetext");
	})()`)
	if !strings.HasPrefix(got, "102.9 103 Hz: here ") {
		t.Errorf("a key to the right reads %q", got)
	}
	reporttest.Value[bool](t, b, `(() => { const box = document.getElementById("live-seat-x"); box.value = "250.5"; box.dispatchEvent(new Event("input")); return true; })()`)
	if s := stateOf(t, b); s.Seat != 250.5 {
		t.Errorf("a typed distance gives %+v", s)
	}
	reporttest.Value[bool](t, b, `(() => { const box = document.getElementById("live-seat-x"); box.value = "9999"; box.dispatchEvent(new Event("input")); return true; })()`)
	if s := stateOf(t, b); s.Seat != 320 {
		t.Errorf("a distance beyond the zone gives %+v", s)
	}
	if got := reporttest.Value[string](t, b, `document.getElementById("live-limits").textContent`); !strings.Contains(got, "the seat is too far from the left speaker, by ") {
		t.Errorf("the limits are %q", got)
	}
	b.Quiet(t)
}

// testImperial reads lengths in feet and inches: marks as they are taped, small lengths finer.
func testImperial(t *testing.T, b *reporttest.Tab, r room) {
	b.Run(t, chromedp.Navigate(r.file(t, unit.Imperial)))
	stateOf(t, b)
	for _, m := range []float64{0.36, 0.305, 1.4224, 2.0002, 0.009, 0} {
		for call, want := range map[string]string{"live.trial.length(%g)": unit.Imperial.Tape(m), "live.trial.length(%g, true)": unit.Imperial.Fine(m)} {
			if got := reporttest.Value[string](t, b, fmt.Sprintf(call, m)); got != want {
				t.Errorf("%g m is %q, want %q", m, got, want)
			}
		}
	}
	if got := reporttest.Value[string](t, b, `document.getElementById("live-left-x").value`); got != "14.2" {
		t.Errorf("36 cm are %s in", got)
	}
	b.Quiet(t)
}

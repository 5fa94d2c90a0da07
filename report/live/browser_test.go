package live

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"

	"evenbass/report/reporttest"
	"evenbass/report/unit"
)

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
				t.Run("scale", func(t *testing.T) { testScale(t, b, r.report(t, unit.Metric)) })
				t.Run("reading", func(t *testing.T) { testReading(t, b) })
				t.Run("barriers", b.CheckBarriers)
				t.Run("rules", func(t *testing.T) { testRules(t, b) })
				t.Run("imperial", func(t *testing.T) { testImperial(t, reporttest.NewTab(t, browser), r) })
			}
		})
	}
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
	return reporttest.Value[state](t, b, settled)
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

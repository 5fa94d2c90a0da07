package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"evenbass/cmd/evenbass/terminal"
	"evenbass/report/reporttest"
)

// Names that owners may give: of 200 letters without a space, and of a script that runs to the left.
var (
	longName = strings.Repeat("W", 200)
	leftward = "חדר השינה של סבתא"
)

// awkward is a closet with such names, and with [reporttest.Hostile] ones, wherever a room file takes a name. Bare, it takes the
// fast engine.
func awkward(treated bool) string {
	hostile := strings.TrimSuffix(reporttest.Hostile, " \u2028") // a room file refuses control characters
	name, treatments := leftward, ""
	if treated {
		name = hostile + leftward
		treatments = fmt.Sprintf(`treatments:
  - {name: %q, wall: left, from: 1.50 m, width: 0.60 m, sill: 0.5 m, height: 1.0 m, layers: [film 100 µm, wool 100 mm 6 kPa·s/m²]}
  - {name: %q, form: cloud, from: [0.90 m, 0.60 m], to: [1.90 m, 1.50 m], gap: 10 cm, layers: [wool 50 mm 10 kPa·s/m²]}
`, longName, leftward)
	}
	return fmt.Sprintf(`
room: {name: %[1]q, length: 2.60 m, width: 2.10 m, height: 2.20 m}
walls: {front: plasterboard on studs, back: plasterboard on studs, left: plasterboard on studs, right: plasterboard on studs, floor: carpet on joists, ceiling: plasterboard on joists}
openings: [{kind: door, wall: right, from: 1.90 m, width: 0.60 m, height: 2.00 m, construction: hollow door, swing: outward}]
%[5]sspeakers:
  now: {left: [0.5 m, 0.55 m, 1.1 m], right: [0.5 m, 1.55 m, 1.1 m]}
  may_stand: [{x: 0.45 m to 0.6 m, y: 0.4 m to 1.7 m}]
  box: {depth: 20 cm, width: 18 cm, height: 28 cm}
seats:
  - {name: %[3]q, at: [1.4 m, 1.05 m, 1.1 m], may_move: [{x: 1.3 m to 1.5 m}]}
  - {name: %[2]q, at: [2.2 m, 1.05 m, 1.1 m]}
keep_clear: [{name: %[4]q, from: [2.2 m, 0 m, 0 m], to: [2.6 m, 0.5 m, 0.8 m]}]
stock:
  currency: ש״ח
  batts: [{name: %[4]q, material: wool 6 kPa·s/m² 14 kg/m³, size: 1000 mm x 600 mm x 100 mm, have: 2, price: 3}]
  films: [{name: %[2]q, material: film 100 µm, size: 2 m x 25 m, price: 19}]
  cloths: [{name: %[3]q, mass: 250 g/m², size: 1.5 m x 10 m}]
  may_cover: [{wall: back}]
options:
  - {name: %[2]q, add: [{name: %[3]q, wall: right, from: 0.50 m, width: 0.60 m, sill: 0.5 m, height: 1.0 m, layers: [wool 100 mm 6 kPa·s/m²]}]}
  - {name: %[4]q, add: [{name: %[4]q, wall: back, from: 0.50 m, width: 1.00 m, sill: 0.5 m, height: 1.0 m, layers: [wool 100 mm 6 kPa·s/m²]}]}
goal: {from: 40 Hz, to: 150 Hz}
subwoofers: {count: 1}
report: {client: %[2]q, project: %[3]q, author: %[4]q, notes: [%[2]q, %[3]q]}
`, name, longName, leftward, hostile, treatments)
}

// Every page that a command writes, of a room with awkward names, in a browser: quiet, harmless, free of
// barriers in light, in dark and on a phone, with targets for fingers, and nothing over the edge of a sheet.
func TestPages(t *testing.T) {
	folder := t.TempDir()
	for name, treated := range map[string]bool{"room.yaml": true, "bare.yaml": false} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(awkward(treated)), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	in := func(name string) string { return filepath.Join(folder, name) }
	for _, c := range []struct{ name, page, command string }{
		{"absorb", "absorb.html", "absorb --from DIR/room.yaml -o DIR/absorb.html"},
		{"build", "build.html", "build -o DIR/build.html DIR/room.yaml"},
		{"demo", "", "measure --demo DIR/room.yaml -o DIR/demo"},
		{"measure", "measure.html", "measure --page DIR/measure.html DIR/room.yaml DIR/demo-before-left.txt DIR/demo-before-right.txt"},
		{"compare", "compare.html", "compare -o DIR/compare.html DIR/room.yaml DIR/demo-before-left.txt DIR/demo-after-left.txt"},
		{"present", "present.html", "compare -o DIR/present.html DIR/room.yaml predicted DIR/demo-before-left.txt"},
		{"calibrate", "calibrate.html", "calibrate --page DIR/calibrate.html DIR/bare.yaml DIR/demo-before-left.txt DIR/demo-before-right.txt"},
		{"map", "map.html", "map -o DIR/map.html DIR/bare.yaml"},
		{"place", "place.html", "place --trials 2 -o DIR/place.html DIR/bare.yaml"},
		{"subs", "subs.html", "subs -o DIR/subs.html DIR/bare.yaml"},
		{"batch", "rooms/index.html", "batch --trials 0 -o DIR/rooms DIR/bare.yaml"},
		{"plan", "plan.html", "plan --quick --static -o DIR/plan.html DIR/bare.yaml"},
		{"whatif", "whatif.html", "whatif -o DIR/whatif.html DIR/room.yaml"},
		{"stage", "stage.html", "stage --stay -o DIR/stage.html DIR/bare.yaml"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var stdout, stderr bytes.Buffer
			if code := run(t.Context(), terminal.New(&stdout, &stderr), strings.Fields(strings.ReplaceAll(c.command, "DIR", folder))); code != terminal.ExitOK {
				t.Fatalf("code %d\n%s", code, &stderr)
			}
			if c.page != "" {
				testPage(t, "file://"+in(c.page))
			}
		})
	}
}

// keysTurned is an expression for the keys of drawings that a name of a script that runs to the left turned, the
// words after it included.
const keysTurned = `[...document.querySelectorAll(".key bdi")].filter(k => /[a-z]/.test(k.textContent) && getComputedStyle(k).direction == "rtl").map(k => k.textContent).join("\n")`

func testPage(t *testing.T, address string) {
	b := reporttest.NewTab(t, reporttest.NewBrowser(t))
	b.Run(t, reporttest.Colours("light"), chromedp.EmulateViewport(1280, 900), chromedp.Navigate(address))
	b.CheckLetters(t, 9)
	if got := reporttest.Value[string](t, b, keysTurned); got != "" {
		t.Errorf("a name turns the words after it: %s", got)
	}
	b.CheckBarriers(t)
	b.Run(t, reporttest.Colours("dark"))
	b.CheckContrast(t)
	b.Run(t, reporttest.Colours("light"), chromedp.EmulateViewport(390, 844))
	b.CheckPhone(t)
	b.CheckBarriers(t)
	b.CheckTargets(t)
	b.CheckColumns(t)
	b.CheckSheetWidth(t)
	if got := reporttest.Value[string](t, b, `[...document.querySelectorAll("img, iframe, object, [onerror]")].map(e => e.outerHTML).join()`); got != "" {
		t.Errorf("a name became %s", got)
	}
	b.Quiet(t)
}

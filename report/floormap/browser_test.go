package floormap

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/report/html"
	"evenbass/report/reporttest"
	"evenbass/report/unit"
)

// mapFile writes a page of maps and returns its file address.
func mapFile(t *testing.T, m Report) string {
	t.Helper()
	return reporttest.File(t, func(out io.Writer) error { return Page(out, m) }, html.ErrNoLibrary)
}

// The maps in a real browser: tuned by the slider, asked by keys and pointer, quiet,
// harmless, and whole on the page of a search.
func TestMapBrowser(t *testing.T) {
	browser := reporttest.NewBrowser(t)
	m := fixtureMaps()
	address := mapFile(t, m)
	t.Run("slider", func(t *testing.T) { testMapSlider(t, reporttest.NewTab(t, browser), address, &m) })
	t.Run("keys", func(t *testing.T) { testMapKeys(t, reporttest.NewTab(t, browser), address, &m) })
	t.Run("pointer", func(t *testing.T) { testMapPointer(t, reporttest.NewTab(t, browser), address) })
	t.Run("hostile", func(t *testing.T) { testMapHostile(t, reporttest.NewTab(t, browser)) })
	t.Run("phone and paper", func(t *testing.T) { testMapPaper(t, reporttest.NewTab(t, browser), address) })
}

// The slider draws each frequency from the survey's own figures: caption, figures in
// the cells, and tinted cells.
func testMapSlider(t *testing.T, b *reporttest.Tab, address string, m *Report) {
	b.Run(t, chromedp.Navigate(address))
	before := reporttest.Value[string](t, b, `document.querySelector("#floor-tone-1 path.l4").getAttribute("d")`)
	const tone = 4
	if got := reporttest.Value[string](t, b, reporttest.TurnTuner(tone)); got != "Sound level at 120 Hz, both speakers together, dB" {
		t.Errorf("the map is called %q", got)
	}
	if after := reporttest.Value[string](t, b, `document.querySelector("#floor-tone-1 path.l4").getAttribute("d")`); after == before || after == "" {
		t.Error("the cells stay as they were")
	}
	v := floorOf(t, *m)
	labels := labelled(t, v.Figures[1])
	got := reporttest.Value[string](t, b, `Array.from(document.querySelectorAll("#floor-tone-1 text.mapvalue"), x => x.textContent).join(" ")`)
	cells := strings.Split(got, " ")
	if len(cells) != len(labels) {
		t.Fatalf("%d figures for %d cells", len(cells), len(labels))
	}
	for i, n := range labels {
		// A quarter of a decibel of packing can turn a figure by one.
		want := float64(m.Survey.Levels.At(response.BothTogether, n, tone))
		var is float64
		if _, err := fmt.Sscanf(strings.ReplaceAll(cells[i], unit.Minus, "-"), "%g", &is); err != nil || math.Abs(is-max(-40, want)) > 0.65 {
			t.Errorf("place %d says %s, want %.2f", n, cells[i], want)
		}
	}
	b.Run(t, chromedp.Click(chromedp.CSS(`#floor-tone-1 input[type=radio][value="1"]`)))
	if got := reporttest.Value[string](t, b, `document.querySelector("#floor-tone-1 figcaption").textContent`); got != "Sound level at 120 Hz, left speaker, dB" {
		t.Errorf("of the left speaker the map is called %q", got)
	}
	b.Quiet(t)
	t.Run("barriers", b.CheckBarriers)
}

// labelled returns the places that have a figure in a map.
func labelled(t *testing.T, f figure) []int {
	t.Helper()
	var places []int
	var data floorData
	if err := json.Unmarshal(f.Data, &data); err != nil {
		t.Fatal(err)
	}
	tile := data.Tiles
	for _, s := range f.Drawing.Shapes {
		if s.Class == "mapvalue" {
			places = append(places, int((float64(s.Y)-tile.Y)/tile.H)*tile.Columns+int((float64(s.X)-tile.X)/tile.W))
		}
	}
	return places
}

// Arrow keys walk from cell to cell, and what is there is said with its tape distances.
func testMapKeys(t *testing.T, b *reporttest.Tab, address string, m *Report) {
	b.Run(t, chromedp.Navigate(address))
	b.Run(t, chromedp.Focus(chromedp.CSS("#floor-chair svg")))
	press := func(key string, times int) string {
		return reporttest.Value[string](t, b, fmt.Sprintf(`(() => { const s = document.querySelector("#floor-chair svg");
			for (let i = 0; i < %d; i++) { s.dispatchEvent(new KeyboardEvent("keydown", {key: "%s", cancelable: true})); }
			return document.querySelector("#floor-chair .reading").textContent; })()`, times, key))
	}
	c := &m.Survey.Chair
	first := c.Place(21*33 + 16)
	want := fmt.Sprintf("%s from the front wall, %s from the left wall: %s", unit.Metric.Tape(first.X), unit.Metric.Tape(first.Y), unit.Spread(c.Spread[21*33+16]))
	if got := press("Shift", 1); !strings.HasPrefix(got, want) {
		t.Errorf("the middle says %q, want %q", got, want)
	}
	if got := press("ArrowUp", 60); !strings.HasPrefix(got, "5 cm from the front wall, 165 cm") || !strings.HasSuffix(got, "Not allowed: the seat is not behind the speakers.") {
		t.Errorf("in front it says %q", got)
	}
	press("ArrowRight", 60)
	if got := press("ArrowDown", 25); got != "255 cm from the front wall, 325 cm from the left wall: no air." {
		t.Errorf("in the chimney breast it says %q", got)
	}
	if got := reporttest.Value[int](t, b, `document.querySelectorAll("#floor-chair .cursor").length`); got != 1 {
		t.Errorf("%d cells are marked", got)
	}
	b.Quiet(t)
}

// The pointer asks the cell beneath it, on a map of levels too.
func testMapPointer(t *testing.T, b *reporttest.Tab, address string) {
	b.Run(t, chromedp.Navigate(address))
	for id, words := range map[string]string{"floor-tone-2": "dB at 79.6 Hz, both speakers together. The mean over the floor is 1.5 dB below the band's.", "floor-about-1": "exactly in place."} {
		got := reporttest.Value[string](t, b, fmt.Sprintf(`(() => { const s = document.querySelector("#%s svg"), r = s.getBoundingClientRect();
			s.dispatchEvent(new PointerEvent("pointermove", {clientX: r.left + r.width / 2, clientY: r.top + r.height / 2, bubbles: true}));
			return document.querySelector("#%s .reading").textContent; })()`, id, id))
		if !strings.Contains(got, " from the front wall, ") || !strings.HasSuffix(got, words) {
			t.Errorf("%s says %q", id, got)
		}
	}
	b.Quiet(t)
}

// A rule that names a block like a script is shown as it is, and nothing runs.
func testMapHostile(t *testing.T, b *reporttest.Tab) {
	m := fixtureMaps()
	const name = "</script><img src=x onerror=alert(1)>"
	m.Project.Room.Name = "</title><script>alert(1)</script>"
	for n := range m.Survey.Chair.Rule {
		m.Survey.Chair.Rule[n] = model.Rule{Kind: model.SeatObstacle, Name: name}
	}
	b.Run(t, chromedp.Navigate(mapFile(t, m)), chromedp.Focus(chromedp.CSS("#floor-chair svg")))
	if got := reporttest.Value[string](t, b, `document.querySelector("#floor-chair .reading").textContent`); !strings.HasSuffix(got, "Not allowed: the seat is inside "+model.Quote(name)+".") {
		t.Errorf("it says %q", got)
	}
	if got := reporttest.Value[int](t, b, `document.querySelectorAll("img, script:not([type])").length`); got != 1 {
		t.Errorf("%d scripts and pictures, want the page's one script", got)
	}
	b.Quiet(t)
}

// On a phone nothing reaches beyond the screen; on paper every map is there that is not folded away.
func testMapPaper(t *testing.T, b *reporttest.Tab, address string) {
	b.Run(t, chromedp.EmulateViewport(390, 844, chromedp.EmulateScale(2), chromedp.EmulateMobile), chromedp.Navigate(address))
	if got := reporttest.Value[int](t, b, `document.documentElement.scrollWidth`); got > 390 {
		t.Errorf("the page is %d wide on a screen of 390", got)
	}
	pdf := reporttest.Answer(t, b, chromedp.PrintToPDF(chromedp.PDFPaper(chromedp.PaperA4), chromedp.PDFPrintBackground()))
	if sheets := bytes.Count(pdf, []byte("/Type /Page\n")); sheets < 1 || sheets > 6 {
		t.Errorf("%d sheets", sheets)
	}
	b.Run(t, reporttest.Command(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"}))
	const drawn = `[...document.querySelectorAll(".floor svg")].filter(e => !e.closest("details:not([open])")).map(e => e.getBoundingClientRect().height > 100)`
	if got := reporttest.Value[[]bool](t, b, drawn); len(got) < 2 || slices.Contains(got, false) {
		t.Errorf("the maps that are on paper: %v", got)
	}
	b.Quiet(t)
}

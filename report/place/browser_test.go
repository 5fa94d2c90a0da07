package place

import (
	"bytes"
	"io"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"evenbass/model"
	"evenbass/report/html"
	"evenbass/report/reporttest"
)

func pageFile(t *testing.T, in Report) string {
	t.Helper()
	return reporttest.File(t, func(w io.Writer) error { return Page(w, in) }, html.ErrNoLibrary)
}

// curves counts the drawn curves of one chart by their colour.
func curves(colourRole string) string {
	return `(() => {
		const c = document.createElement("canvas").getContext("2d");
		c.fillStyle = getComputedStyle(document.documentElement).getPropertyValue("` + colourRole + `").trim();
		return document.querySelectorAll('#response_both svg path[stroke="' + c.fillStyle + '"][fill="none"]').length;
	})()`
}

// The page in a real browser: drawn, quiet, harmless, fit for a phone and for
// paper.
func TestBrowser(t *testing.T) {
	browser := reporttest.NewBrowser(t)
	address := pageFile(t, fixtureInput(model.DefaultGrid()))
	for _, scheme := range []string{"light", "dark"} {
		t.Run(scheme, func(t *testing.T) { testDrawn(t, reporttest.NewTab(t, browser), address, scheme) })
	}
	t.Run("choice", func(t *testing.T) { testChoice(t, reporttest.NewTab(t, browser), address) })
	t.Run("hostile", func(t *testing.T) { testHostile(t, reporttest.NewTab(t, browser)) })
	t.Run("phone", func(t *testing.T) { testPhone(t, reporttest.NewTab(t, browser), address) })
	t.Run("maps", func(t *testing.T) { testMapOfPlace(t, reporttest.NewTab(t, browser)) })
	t.Run("print", func(t *testing.T) { testPrint(t, reporttest.NewTab(t, browser), address) })
}

// Every chart is drawn, now and layout 1 with one curve each, in the colours asked
// for.
func testDrawn(t *testing.T, b *reporttest.Tab, address, scheme string) {
	b.Run(t, reporttest.Colours(scheme), chromedp.Navigate(address))
	if got := reporttest.Value[string](t, b, reporttest.ChartsDrawn); got != "4" {
		t.Errorf("%s of 4 charts are drawn", got)
	}
	if got := reporttest.Value[string](t, b, `document.title`); got != "Spare room: places for loudspeakers and listener" {
		t.Errorf("title is %q", got)
	}
	paper := reporttest.Value[string](t, b, reporttest.PaperColour)
	if dark := paper == "rgb(21, 25, 28)"; dark != (scheme == "dark") {
		t.Errorf("the paper is %s", paper)
	}
	if now, first := reporttest.Value[int](t, b, curves("--now")), reporttest.Value[int](t, b, curves("--layout-1")); now != 1 || first != 1 {
		t.Errorf("%d curves of now and %d of layout 1", now, first)
	}
	b.Quiet(t)
}

// Choosing a layout shows its curve in place of the first one's.
func testChoice(t *testing.T, b *reporttest.Tab, address string) {
	b.Run(t, chromedp.Navigate(address), chromedp.Click(chromedp.CSS(`input[value="layout 3"]`)))
	first, third := reporttest.Value[int](t, b, curves("--layout-1")), reporttest.Value[int](t, b, curves("--layout-3"))
	if first != 0 || third != 1 {
		t.Errorf("%d curves of layout 1 and %d of layout 3", first, third)
	}
	b.Quiet(t)
}

// A room whose name is a script is shown by its name, and no script but the
// page's own runs.
func testHostile(t *testing.T, b *reporttest.Tab) {
	b.Run(t, chromedp.Navigate(pageFile(t, hostileInput())))
	if got := reporttest.Value[string](t, b, `document.querySelector("h1").textContent`); !strings.HasPrefix(got, "</script><script>alert(1)</script>") {
		t.Errorf("the room is called %q", got)
	}
	if got := reporttest.Value[int](t, b, `document.querySelectorAll("img, script:not([type])").length`); got != 2 {
		t.Errorf("%d scripts and pictures, want the page's two scripts", got)
	}
	if got := reporttest.Value[string](t, b, reporttest.ChartsDrawn); got != "4" {
		t.Errorf("%s of 4 charts are drawn", got)
	}
	b.Quiet(t)
}

// On a phone nothing but wide tables reaches beyond the screen, and those scroll
// by themselves.
func testPhone(t *testing.T, b *reporttest.Tab, address string) {
	b.Run(t, chromedp.EmulateViewport(390, 844, chromedp.EmulateScale(2), chromedp.EmulateMobile), chromedp.Navigate(address))
	if got := reporttest.Value[int](t, b, `document.documentElement.scrollWidth`); got > 390 {
		t.Errorf("the page is %d wide on a screen of 390", got)
	}
	if got := reporttest.Value[float64](t, b, `document.querySelector("#response_both svg").getBoundingClientRect().right`); got > 390 {
		t.Errorf("the chart reaches to %v", got)
	}
	b.Quiet(t)
}

// scaled counts the charts that a sheet can shrink as a whole, and names how wide they are drawn.
const scaled = `(() => {
	const boxes = [...document.querySelectorAll(".chart svg")].map(s => s.viewBox.baseVal ? s.viewBox.baseVal.width : 0);
	return boxes.filter(w => w > 0 && w <= 680).length + " of " + boxes.length
})()`

// The page prints on both papers, from a dark screen too, in few sheets, and is
// dark again afterwards.
func testPrint(t *testing.T, b *reporttest.Tab, address string) {
	b.Run(t, reporttest.Colours("dark"), chromedp.EmulateViewport(1120, 900), chromedp.Navigate(address))
	reporttest.Value[bool](t, b, `window.dispatchEvent(new Event("beforeprint"))`)
	if got := reporttest.Value[string](t, b, scaled); got != "4 of 4" {
		t.Errorf("on paper %s charts are shown whole", got)
	}
	reporttest.Value[bool](t, b, `window.dispatchEvent(new Event("afterprint"))`)
	if got := reporttest.Value[string](t, b, scaled); got != "0 of 4" {
		t.Errorf("after printing %s charts still have the size of paper", got)
	}
	for paper, size := range map[string]chromedp.PaperSize{"A4": chromedp.PaperA4, "Letter": chromedp.PaperLetter} {
		pdf, err := chromedp.Run(b.Context, chromedp.PrintToPDF(chromedp.PDFPaper(size), chromedp.PDFPrintBackground()))
		if err != nil {
			t.Fatal(err)
		}
		sheets := bytes.Count(pdf, []byte("/Type /Page\n"))
		if !bytes.HasPrefix(pdf, []byte("%PDF")) || sheets < 5 || sheets > 12 {
			t.Errorf("%s: %d bytes, %d sheets", paper, len(pdf), sheets)
		}
	}
	if got := reporttest.Value[string](t, b, reporttest.PaperColour); got != "rgb(21, 25, 28)" {
		t.Errorf("after printing the paper is %s", got)
	}
	b.Quiet(t)
}

// The page of a search has the maps after its layouts, charts and all.
func testMapOfPlace(t *testing.T, b *reporttest.Tab) {
	in := fixtureInput(model.DefaultGrid())
	in.Floor = reporttest.Survey(in.Project, in.best().Layout)
	b.Run(t, chromedp.Navigate(pageFile(t, in)))
	if got := reporttest.Value[string](t, b, reporttest.ChartsDrawn); got != "4" {
		t.Errorf("%s of 4 charts are drawn", got)
	}
	if got := reporttest.Value[int](t, b, `document.querySelectorAll("#layouts").length && document.querySelectorAll("figure.floor svg[tabindex='0']").length`); got != 6 {
		t.Errorf("%d of 6 maps answer", got)
	}
	if got := reporttest.Value[string](t, b, reporttest.TurnTuner(0)); !strings.Contains(got, "at 30.0 Hz") {
		t.Errorf("the map is called %q", got)
	}
	b.Quiet(t)
}

package absorb

import (
	"bytes"
	"html"
	"io"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"evenbass/model"
	htmlpage "evenbass/report/html"
	"evenbass/report/reporttest"
)

func absorptionText(t *testing.T, a Report) string {
	t.Helper()
	view, err := newPageView(&a)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := htmlpage.Render(&b, view, "", htmlpage.Folder(pageFiles, "page")); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// hostileAbsorption puts reporttest.Hostile text into every field that a user fills.
func hostileAbsorption() Report {
	a := fixtureAbsorption(absorptionGrid())
	a.Title = reporttest.Hostile
	a.Run = htmlpage.Run{Command: reporttest.Hostile, Version: reporttest.Hostile, Source: reporttest.Hostile, File: reporttest.Hostile}
	b := &a.BuildUps[0]
	b.Name, b.Text, b.Wall, b.Words, b.Sources, b.Warnings = reporttest.Hostile, reporttest.Hostile, reporttest.Hostile, []string{reporttest.Hostile}, []string{reporttest.Hostile}, []model.Warning{model.Remark(reporttest.Hostile)}
	b.Layers = append([]model.Layer(nil), b.Layers...)
	b.Layers[0].Text = reporttest.Hostile
	return a
}

func TestAbsorptionPageIsHarmless(t *testing.T) {
	page := func() string { return absorptionText(t, fixtureAbsorption(absorptionGrid())) }
	reporttest.CheckHarmless(t, page(), page(), absorptionText(t, hostileAbsorption()))
}

// The page says what it must: recipe, range, the edges of a sample, every build-up
// with section, layers and words.
func TestAbsorptionPageChapters(t *testing.T) {
	a := fixtureAbsorption(absorptionGrid())
	text := html.UnescapeString(absorptionText(t, a))
	for _, want := range []string{
		"Johnson-Champoux-Allard", "ISO 354", "30 % lower or higher", "Not measured", "A, rear layer: wool 50 mm",
		"Fibres and dust", "licensed trades decide", "Layers of B, from the room to the wall", "25 November 2026", "wool: no source but this test",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	for _, w := range append(a.BuildUps[0].Words, a.BuildUps[1].Words...) {
		if !strings.Contains(text, w) {
			t.Errorf("the page does not say %q", w)
		}
	}
	reporttest.CheckWhole(t, text, 7)
	if n := strings.Count(text, `<svg class="drawing"`); n != 2 {
		t.Errorf("%d sections", n)
	}
}

// A comparison without a title is called by what it holds.
func TestAbsorptionPageTitle(t *testing.T) {
	a := fixtureAbsorption(absorptionGrid())
	a.Title = " "
	if got := a.pageTitle(); got != "2 build-ups compared" {
		t.Errorf("two are called %q", got)
	}
	a.BuildUps = a.BuildUps[:1]
	if got := a.pageTitle(); got != "One build-up" {
		t.Errorf("one is called %q", got)
	}
}

func absorptionFile(t *testing.T, a Report) string {
	t.Helper()
	return reporttest.File(t, func(out io.Writer) error { return Page(out, a) }, htmlpage.ErrNoLibrary)
}

// In a browser without network: both charts drawn with every curve and letter, quiet,
// harmless, no wider than a phone, printed on few sheets.
func TestAbsorptionBrowser(t *testing.T) {
	b := reporttest.NewTab(t, reporttest.NewBrowser(t))
	address := absorptionFile(t, fixtureAbsorption(absorptionGrid()))
	b.Run(t, reporttest.Colours("light"), chromedp.Navigate(address))
	if got := reporttest.Value[string](t, b, reporttest.ChartsDrawn); got != "2" {
		t.Errorf("%s of 2 charts are drawn", got)
	}
	for _, id := range []string{"absorption_random", "absorption_normal"} {
		letters := reporttest.Value[string](t, b, `Array.from(document.querySelectorAll("#`+id+` svg text")).map(e => e.textContent).filter(s => /^[A-E]$/.test(s)).sort().join("")`)
		if letters != "AB" {
			t.Errorf("%s: letters %q", id, letters)
		}
		marks := reporttest.Value[string](t, b, `Array.from(document.querySelectorAll("#`+id+` svg text")).map(e => e.textContent).join(" ")`)
		for _, want := range []string{"31.5", "63", "125", "250", "500", "1k", "2k", "4k"} {
			if !strings.Contains(" "+marks+" ", " "+want+" ") {
				t.Errorf("%s: the axis lacks %s: %s", id, want, marks)
			}
		}
	}
	b.Run(t, chromedp.Navigate(absorptionFile(t, hostileAbsorption())))
	if got := reporttest.Value[int](t, b, `document.querySelectorAll("img, script:not([type])").length`); got != 2 {
		t.Errorf("%d scripts and pictures, want the page's two scripts", got)
	}
	b.Run(t, chromedp.EmulateViewport(390, 844, chromedp.EmulateScale(2), chromedp.EmulateMobile), chromedp.Navigate(address))
	b.CheckPhone(t)
	b.CheckSheets(t, 3, 10)
	b.Quiet(t)
}

package whatif

import (
	"bytes"
	"io"
	"testing"

	"github.com/chromedp/chromedp"

	"evenbass/report/html"
	"evenbass/report/reporttest"
)

// whatIfFile writes the page of a comparison and returns its file address.
func whatIfFile(t *testing.T, w Report) string {
	t.Helper()
	return reporttest.File(t, func(out io.Writer) error { return Page(out, w) }, html.ErrNoLibrary)
}

// The comparison in a real browser: every option's curve is drawn over the present one without
// a script, the page fits a phone, prints in few sheets and is quiet.
func TestWhatIfBrowser(t *testing.T) {
	b := reporttest.NewTab(t, reporttest.NewBrowser(t))
	b.Run(t, chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile), chromedp.Navigate(whatIfFile(t, whatIfFixture())))
	b.CheckPhone(t)
	const shown = `[...document.querySelectorAll("[id^=option-left-] .curve")].filter(c => c.tagName == "path" && c.getBoundingClientRect().width > 60).map(c => getComputedStyle(c).stroke).join("; ")`
	if got := reporttest.Value[string](t, b, shown); got != "rgb(95, 100, 104); rgb(0, 104, 163); rgb(95, 100, 104); rgb(0, 104, 163)" {
		t.Errorf("the curves are %s", got)
	}
	pdf := reporttest.Answer(t, b, chromedp.PrintToPDF(chromedp.PDFPrintBackground()))
	if sheets := bytes.Count(pdf, []byte("/Type /Page\n")); sheets < 1 || sheets > 3 {
		t.Errorf("%d sheets", sheets)
	}
	b.Quiet(t)
}

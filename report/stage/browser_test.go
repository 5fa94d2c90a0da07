package stage

import (
	"io"
	"testing"

	"github.com/chromedp/chromedp"

	"evenbass/report/html"
	"evenbass/report/reporttest"
)

// The page in a real browser: the curves are drawn without a script, it fits a phone, prints the
// client's two sheets and the appendix on request alone, and is quiet.
func TestStageBrowser(t *testing.T) {
	b := reporttest.NewTab(t, reporttest.NewBrowser(t))
	address := reporttest.File(t, func(out io.Writer) error { return Page(out, fixtureStaging(t)) }, html.ErrNoLibrary)
	b.Run(t, chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile), chromedp.Navigate(address))
	b.CheckPhone(t)
	b.CheckSheets(t, 2, 8)
	const shown = `[...document.querySelectorAll("#response-narrow-drawing path.curve")].map(c => getComputedStyle(c).stroke).join("; ")`
	if got := reporttest.Value[string](t, b, shown); got != "rgb(95, 100, 104); rgb(173, 70, 0); rgb(0, 104, 163)" {
		t.Errorf("the curves are %s", got)
	}
	b.Quiet(t)
}

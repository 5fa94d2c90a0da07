package plan

import (
	"io"
	"testing"

	"github.com/chromedp/chromedp"

	"evenbass/report/html"
	"evenbass/report/reporttest"
)

// othersRemoved leaves the overview alone on the page. It is false if there is nothing else, or no overview.
const othersRemoved = `(() => {
	const overview = document.querySelector(".overview").closest("section"), others = [...overview.parentNode.children].filter(e => e != overview && !e.matches("header, style"));
	others.forEach(e => e.remove());
	return others.length > 3;
})()`

// The page in a real browser: it fits a phone, its overview prints on one sheet, and it is quiet.
func TestBrowser(t *testing.T) {
	b := reporttest.NewTab(t, reporttest.NewBrowser(t))
	address := reporttest.File(t, func(out io.Writer) error { return Page(out, fixture(t)) }, html.ErrNoLibrary)
	b.Run(t, chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile), chromedp.Navigate(address))
	b.CheckPhone(t)
	b.Run(t, chromedp.Navigate(address))
	b.Quiet(t)
	whole := b.Sheets(t, chromedp.PaperA4)
	if !reporttest.Value[bool](t, b, othersRemoved) {
		t.Fatal("the overview stands alone on the page")
	}
	for name, paper := range map[string]chromedp.PaperSize{"A4": chromedp.PaperA4, "Letter": chromedp.PaperLetter} {
		if n := b.Sheets(t, paper); n != 1 || n >= whole {
			t.Errorf("%s: the overview has %d sheets of %d", name, n, whole)
		}
	}
}

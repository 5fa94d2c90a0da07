package whatif

import (
	"bytes"
	"io"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"evenbass/report/html"
	"evenbass/report/reporttest"
)

// whatIfFile writes the page of a comparison and returns its file address.
func whatIfFile(t *testing.T, w Report) string {
	t.Helper()
	return reporttest.File(t, func(out io.Writer) error { return Page(out, w) }, html.ErrNoLibrary)
}

// curvesOf counts the drawn curves of the chart of both by their colour.
func curvesOf(colourRole string) string {
	return `(() => {
		const c = document.createElement("canvas").getContext("2d");
		c.fillStyle = getComputedStyle(document.documentElement).getPropertyValue("` + colourRole + `").trim();
		return Array.from(document.querySelectorAll('[id^=whatif_] svg path[fill="none"][stroke="' + c.fillStyle + '"]'))
			.filter(p => p.getTotalLength() > 60).length;
	})()`
}

// The comparison in a real browser: three charts with a curve of each state, which the
// keyboard switches off and on in all of them, also through a change of colours, and
// prints in few sheets.
func TestWhatIfBrowser(t *testing.T) {
	b := reporttest.NewTab(t, reporttest.NewBrowser(t))
	b.Run(t, reporttest.Colours("light"), chromedp.Navigate(whatIfFile(t, whatIfFixture())))
	if got := reporttest.Value[string](t, b, reporttest.ChartsDrawn); got != "3" {
		t.Errorf("%s of 3 charts are drawn", got)
	}
	want := func(when string, now, a int) {
		t.Helper()
		var n, k int
		for range 40 { // a change of colours is heard a moment later
			if n, k = reporttest.Value[int](t, b, curvesOf("--now")), reporttest.Value[int](t, b, curvesOf("--layout-1")); n == now && k == a {
				return
			}
			time.Sleep(50 * time.Millisecond)
		}
		t.Errorf("%s: %d curves of now and %d of A, want %d and %d", when, n, k, now, a)
	}
	want("at first", 3, 3)
	press := chromedp.SendKeys(chromedp.CSS(`.switches input[value="A"]`), " ")
	b.Run(t, press)
	want("A off", 3, 0)
	b.Run(t, reporttest.Colours("dark"))
	want("A off in the dark", 3, 0)
	b.Run(t, press)
	want("A on again", 3, 3)
	pdf, err := chromedp.Run(b.Context, chromedp.PrintToPDF(chromedp.PDFPrintBackground()))
	if err != nil {
		t.Fatal(err)
	}
	if sheets := bytes.Count(pdf, []byte("/Type /Page\n")); sheets < 2 || sheets > 9 {
		t.Errorf("%d sheets", sheets)
	}
	b.Quiet(t)
}

package reporttest

import (
	"bytes"
	"testing"

	"github.com/chromedp/chromedp"
)

// Smallest is an expression for the size in px of the smallest letters drawn on the screen, those that
// are turned included.
const Smallest = `Math.min(...[...document.querySelectorAll("svg.drawing text")].filter(t => t.getClientRects().length)
	.map(t => { const m = t.getScreenCTM(); return parseFloat(getComputedStyle(t).fontSize) * Math.hypot(m.a, m.b); }))`

// CheckLetters holds drawings, all that is folded opened, to letters of so many px at least.
func (b *Tab) CheckLetters(t *testing.T, least float64) {
	t.Helper()
	if got := Value[float64](t, b, `document.querySelectorAll("details").forEach(d => d.open = true), `+Smallest); got < least {
		t.Errorf("letters in drawings are %.1f px, want %g", got, least)
	}
}

// CheckPhone holds the page, on a screen of 390 px, to reaching no further than the screen with all
// that is folded opened, and to letters in drawings of 11 px at least.
func (b *Tab) CheckPhone(t *testing.T) {
	t.Helper()
	if got := Value[int](t, b, `document.querySelectorAll("details").forEach(d => d.open = true), document.documentElement.scrollWidth`); got > 390 {
		t.Errorf("the page is %d wide on a screen of 390", got)
	}
	b.CheckLetters(t, 11)
	Value[bool](t, b, `document.querySelectorAll("details").forEach(d => d.open = false), true`)
}

// Sheets prints the page and counts its sheets.
func (b *Tab) Sheets(t *testing.T, size chromedp.PaperSize) int {
	t.Helper()
	pdf := Answer(t, b, chromedp.PrintToPDF(chromedp.PDFPaper(size), chromedp.PDFPrintBackground()))
	if !bytes.HasPrefix(pdf, []byte("%PDF")) {
		t.Errorf("%d bytes are no PDF", len(pdf))
	}
	return bytes.Count(pdf, []byte("/Type /Page\n"))
}

// CheckSheets holds a folded page to the number of sheets that the client gets, on A4 and Letter
// alike, and to more of them, but no more than most, once the appendix is asked for.
func (b *Tab) CheckSheets(t *testing.T, client, most int) {
	t.Helper()
	for paper, size := range map[string]chromedp.PaperSize{"A4": chromedp.PaperA4, "Letter": chromedp.PaperLetter} {
		if n := b.Sheets(t, size); n != client {
			t.Errorf("%s: %d sheets, want %d", paper, n, client)
		}
	}
	b.Run(t, chromedp.Click(chromedp.CSS("#with-appendix")))
	if n := b.Sheets(t, chromedp.PaperA4); n <= client || n > most {
		t.Errorf("with the appendix: %d sheets", n)
	}
}

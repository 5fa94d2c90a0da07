package reporttest

import (
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// smallTargets is an expression that lists what is pressed and is smaller than 24 by 24 px. Links within
// sentences are exempt (WCAG 2.2, 2.5.8).
const smallTargets = `[...document.querySelectorAll("a[href], button, input, select, summary, [role=slider], .handle")].filter(e => {
	if (!e.getClientRects().length || e.matches("p a, li a, figcaption a")) return false;
	return ![e, e.closest("label") || e].some(t => t.getBoundingClientRect().width >= 24 && t.getBoundingClientRect().height >= 24);
}).map(e => e.outerHTML.slice(0, 80)).join("\n")`

// CheckTargets holds what the page lets its reader press to 24 px a side.
func (b *Tab) CheckTargets(t *testing.T) {
	t.Helper()
	if small := Value[string](t, b, smallTargets); small != "" {
		t.Errorf("too small for a finger:\n%s", small)
	}
}

// looseColumns is an expression that counts the tables that scroll and whose first column scrolls along.
const looseColumns = `[...document.querySelectorAll(".scroll > table")].filter(t => t.getClientRects().length && t.offsetWidth > t.parentNode.clientWidth + 1
	&& getComputedStyle(t.querySelector("tbody tr > *")).position != "sticky").length`

// CheckColumns holds tables that are wider than the screen to a first column that stays.
func (b *Tab) CheckColumns(t *testing.T) {
	t.Helper()
	if n := Value[int](t, b, looseColumns); n != 0 {
		t.Errorf("%d tables scroll without their first column", n)
	}
}

// tooWide is an expression that lists the tables, drawings and lines of code that reach beyond the sheet.
const tooWide = `[...document.querySelectorAll("table, svg, pre, h1, h2, h3, p")].filter(e => e.getClientRects().length
	&& e.getBoundingClientRect().right > (e.closest(".leadsteps, .multiple, .overview > div") || document.body).getBoundingClientRect().right + 1)
	.map(e => e.tagName + " " + e.textContent.trim().slice(0, 60)).join("\n")`

// sheetWidth is what A4 leaves between the margins of frame.css, 182 mm, px.
const sheetWidth = 688

// CheckSheetWidth holds the page on paper, its appendix included, to the width of a sheet, where nothing scrolls.
func (b *Tab) CheckSheetWidth(t *testing.T) {
	t.Helper()
	b.Run(t, chromedp.EmulateViewport(sheetWidth, 1000), Command(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"}))
	Value[bool](t, b, `document.querySelectorAll("details").forEach(d => d.open = true), document.querySelectorAll("#with-appendix").forEach(c => c.checked = true), true`)
	if wide := Value[string](t, b, tooWide); wide != "" {
		t.Errorf("wider than a sheet:\n%s", wide)
	}
}

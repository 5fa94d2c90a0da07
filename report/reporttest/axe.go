package reporttest

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// axeFile is where `make axe` leaves the library that looks for barriers in a page, from the
// repository's top.
const axeFile = ".cache/axe.min.js"

// axeLibrary returns the text of that library. Without it, the test ends as [Missing] says.
func axeLibrary(t *testing.T) string {
	t.Helper()
	folder, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for ; filepath.Dir(folder) != folder; folder = filepath.Dir(folder) {
		if _, err := os.Stat(filepath.Join(folder, "go.mod")); err == nil {
			break
		}
	}
	text, err := os.ReadFile(filepath.Join(folder, axeFile))
	if err != nil {
		Missing(t, "no axe-core: the page's barriers are not looked for (run \"make axe\")")
	}
	return string(text)
}

// findings is an expression that runs axe-core over the page, all that is folded opened, and
// gives what it found by the rules of WCAG 2.2 A and AA and by its own of good practice, one
// line each. Afterwards it plants a barrier, so that the last line says whether it looks at all.
const findings = `(async () => {
	document.querySelectorAll("details").forEach(d => d.open = true);
	const rules = {runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"], resultTypes: ["violations"]};
	const r = await axe.run(document, rules);
	const planted = document.body.appendChild(document.createElement("button"));
	const p = await axe.run(planted, rules);
	planted.remove();
	return r.violations.map(v => v.id + ": " + v.help + " at " + v.nodes.slice(0, 4).map(n => n.target.join(" ")).join(", "))
		.concat("planted " + p.violations.map(v => v.id).join(" ")).join("\n");
})()`

// CheckBarriers checks the page in the tab for readers who use a screen reader, a keyboard or high contrast,
// as far as axe-core can.
func (b *Tab) CheckBarriers(t *testing.T) {
	t.Helper()
	Value[bool](t, b, axeLibrary(t)+"; true")
	text, err := chromedp.Run(b.Context, chromedp.Evaluate[string](findings, chromedp.EvalAwaitPromise))
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(text, "\n")
	for _, line := range lines[:len(lines)-1] {
		t.Error(line)
	}
	if last := lines[len(lines)-1]; !strings.HasPrefix(last, "planted button-name") {
		t.Errorf("axe-core did not find a button without a name: %s", last)
	}
}

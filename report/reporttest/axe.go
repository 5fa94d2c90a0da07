package reporttest

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
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

// findings is an expression that runs axe-core by some rules over the page, all that is folded opened, and
// gives what it found, one line each. Afterwards it plants two barriers, so that the last line says
// whether it looks at all.
const findings = `(async only => {
	document.querySelectorAll("details").forEach(d => d.open = true);
	const rules = {runOnly: only, resultTypes: ["violations"]};
	const r = await axe.run(document, rules);
	const planted = document.body.appendChild(document.createElement("div"));
	planted.innerHTML = "<button></button><p>grey on white</p>";
	Object.assign(planted.lastChild.style, {color: "#999", background: "#fff"}); // which no policy forbids
	const p = await axe.run(planted, rules);
	planted.remove();
	return r.violations.map(v => v.id + ": " + v.help + " at " + v.nodes.slice(0, 4).map(n => n.target.join(" ")).join(", "))
		.concat("planted " + p.violations.map(v => v.id).join(" ")).join("\n");
})(%s)`

// CheckBarriers checks the page in the tab for readers who use a screen reader, a keyboard or high contrast,
// as far as axe-core can: by the rules of WCAG 2.2 A and AA and by its own of good practice.
func (b *Tab) CheckBarriers(t *testing.T) {
	t.Helper()
	b.checkRules(t, `["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]`, "button-name")
}

// CheckContrast checks the contrast of the page's text alone, for another scheme of colours.
func (b *Tab) CheckContrast(t *testing.T) {
	t.Helper()
	b.checkRules(t, `{type: "rule", values: ["color-contrast"]}`, "color-contrast")
}

// checkRules checks the page by rules of axe-core that find a barrier if it is there.
func (b *Tab) checkRules(t *testing.T, rules, barrier string) {
	t.Helper()
	Value[bool](t, b, axeLibrary(t)+"; true")
	text := Value[string](t, b, fmt.Sprintf(findings, rules))
	lines := strings.Split(text, "\n")
	for _, line := range lines[:len(lines)-1] {
		t.Error(line)
	}
	if last := lines[len(lines)-1]; !strings.Contains(last, barrier) {
		t.Errorf("axe-core did not find the %s that was planted: %s", barrier, last)
	}
}

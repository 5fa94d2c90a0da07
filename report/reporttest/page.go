package reporttest

import (
	"html"
	"regexp"
	"strings"
	"testing"
)

// Hostile is text that ends a script, an attribute, a comment or a chart's string
// in a page that is careless.
const Hostile = `</script><script>alert(1)</script> "'><img src=x onerror=alert(2)> __f__alert(3)__f__ --> ]]> {{.}} ` + "\u2028"

// CheckHarmless holds a page made twice from one input, and once with [Hostile] in every
// field that a user fills, to what all pages promise: text stays text, nothing on the page
// points out of it, and the same input gives the same page. The namespaces that the chart
// library writes are names, not addresses that are fetched, so the pages are without it.
func CheckHarmless(t *testing.T, page, again, attacked string) {
	t.Helper()
	for _, tag := range []string{"<script", "</script", "<img", "<!--", "<style", "<iframe", "<object"} {
		if got, want := strings.Count(strings.ToLower(attacked), tag), strings.Count(strings.ToLower(page), tag); got != want {
			t.Errorf("%d of %s, the harmless page has %d", got, tag, want)
		}
	}
	for _, m := range regexp.MustCompile(`<[a-zA-Z](?:[^>"]|"[^"]*")*\sonerror=`).FindAllString(attacked, -1) {
		t.Errorf("a live handler: %s", m)
	}
	if !strings.Contains(html.UnescapeString(attacked), "</script><script>alert(1)</script>") {
		t.Error("the names are not on the page as text")
	}
	for _, pattern := range []string{`(?i)https?:`, `(?i)\bsrc\s*=`, `(?i)<link`, `(?i)@import`, `(?i)url\(`, `(?i)href="[^#]`} {
		if m := regexp.MustCompile(pattern).FindString(page); m != "" {
			t.Errorf("the page has %q", m)
		}
	}
	if again != page {
		t.Error("the same input gave two different pages")
	}
}

// CheckWhole holds a page to what a reader needs: so many links, each to a part of the
// page, no two parts of one name, and tables with captions and scopes.
func CheckWhole(t *testing.T, text string, links int) {
	t.Helper()
	parts := map[string]bool{}
	for _, m := range regexp.MustCompile(` id="([^"]+)"`).FindAllStringSubmatch(text, -1) {
		if parts[m[1]] {
			t.Errorf("two parts are called %s", m[1])
		}
		parts[m[1]] = true
	}
	found := regexp.MustCompile(`href="#([^"]+)"`).FindAllStringSubmatch(text, -1)
	if len(found) != links {
		t.Errorf("%d links, want %d", len(found), links)
	}
	for _, m := range found {
		if !parts[m[1]] {
			t.Errorf("the link to %s leads nowhere", m[1])
		}
	}
	for _, tab := range regexp.MustCompile(`(?s)<table.*?</table>`).FindAllString(text, -1) {
		if !strings.Contains(tab, "<caption>") || !strings.Contains(tab, `scope="col"`) || !strings.Contains(tab, `scope="row"`) {
			t.Errorf("a table without caption or scopes: %.80s", tab)
		}
	}
}

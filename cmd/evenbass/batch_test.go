package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// What is there of a room is kept only if page and JSON are whole and of this fingerprint;
// else it is said what is the matter.
func TestMade(t *testing.T) {
	t.Parallel()
	const page = "<!doctype html><html></html>\n"
	const doc = `{"format": "evenbass places 1", "batch": {"fingerprint": "this", "row": {"file": "a.yaml", "best_db": 5.5}}}`
	for _, c := range []struct{ name, page, doc, why string }{
		{"whole", page, doc, ""},
		{"nothing", "", "", notMade},
		{"no page", "", doc, "a.html is missing"},
		{"no JSON", page, "", "a.json is missing"},
		{"half a page", page[:20], doc, "a.html is not whole"},
		{"half the JSON", page, doc[:60], "a.json is damaged"},
		{"another document", page, `{"format": "evenbass places 1"}`, "a.json is damaged, or not from a batch"},
		{"other settings", page, strings.Replace(doc, "this", "that", 1), "with other settings"},
	} {
		base := filepath.Join(t.TempDir(), "a")
		for end, text := range map[string]string{".html": c.page, ".json": c.doc} {
			if text == "" {
				continue
			}
			if err := os.WriteFile(base+end, []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		row, why := made(base, "this")
		if !strings.Contains(why, c.why) || c.why == "" && (why != "" || row.Best == nil || *row.Best != 5.5) {
			t.Errorf("%s: %q, want %q; row %+v", c.name, why, c.why, row)
		}
	}
}

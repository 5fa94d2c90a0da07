package terminal

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"testing"
)

// Ended at once, no part of a file stays, and what was whole before stays as it was.
func TestAbandonLeavesNoPart(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "page.html")
	var stderr bytes.Buffer
	term := New(io.Discard, &stderr)
	text := func(s string) func(io.Writer) error {
		return func(w io.Writer) error { _, err := io.WriteString(w, s); return err }
	}
	if err := term.WriteFile(path, text("whole")); err != nil || len(term.parts) != 0 {
		t.Fatalf("error %v, parts left %v", err, term.parts)
	}
	if _, err := term.begin(path); err != nil {
		t.Fatal(err)
	}
	term.Abandon()
	entries, err := os.ReadDir(filepath.Dir(path))
	if err != nil || len(entries) != 1 {
		t.Errorf("%v are there, error %v", entries, err)
	}
	if kept, err := os.ReadFile(path); err != nil || string(kept) != "whole" {
		t.Errorf("the page is %q, error %v", kept, err)
	}
	if got := stderr.String(); got != "evenbass: ended at once; anything not yet written is lost\n" {
		t.Errorf("said %q", got)
	}
}

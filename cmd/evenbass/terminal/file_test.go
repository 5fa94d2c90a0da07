package terminal

import (
	"bytes"
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"
)

// If the program ends at once, no part of a file stays, and files that were whole stay as they
// were.
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

// What a killed run left beside a file goes with the next run. What may belong to a run that still
// writes stays, and so does any other file.
func TestClearParts(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	path := filepath.Join(folder, "page.html")
	old := time.Now().Add(-time.Hour)
	for name, age := range map[string]time.Time{
		".page.html123": old, ".page.html9": time.Now(), ".page.html": old, ".page.html7.bak": old, "page.html1": old, ".other.html5": old,
	} {
		file := filepath.Join(folder, name)
		if err := errors.Join(os.WriteFile(file, nil, 0o600), os.Chtimes(file, age, age)); err != nil {
			t.Fatal(err)
		}
	}
	if err := New(io.Discard, io.Discard).WriteFile(path, func(io.Writer) error { return nil }); err != nil {
		t.Fatal(err)
	}
	var left []string
	entries, err := os.ReadDir(folder)
	for _, e := range entries {
		left = append(left, e.Name())
	}
	want := []string{".other.html5", ".page.html", ".page.html7.bak", ".page.html9", "page.html", "page.html1"}
	if err != nil || !slices.Equal(left, want) {
		t.Errorf("%q are left, error %v; want %q", left, err, want)
	}
}

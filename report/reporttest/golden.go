package reporttest

import (
	"errors"
	"flag"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the goldens instead of comparing with them")

// Updating reports whether goldens are to be written.
func Updating() bool { return *update }

// Golden compares text with testdata/name and shows the difference.
func Golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v (write it with -update)", err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("%s differs (-want +got):\n%s", name, diff)
	}
}

// mostLines is how many lines the text of a command has unless everything is asked for.
const mostLines = 40

// CheckFits checks that a text fits a terminal of 40 lines.
func CheckFits(t *testing.T, text string) {
	t.Helper()
	if n := strings.Count(text, "\n"); n > mostLines {
		t.Errorf("%d lines, want %d at most:\n%s", n, mostLines, text)
	}
}

// metric is a length, area, volume, mass or temperature in metric units. Flow resistivity has
// no other unit in use.
var metric = regexp.MustCompile(`[0-9.]+ (?:[µcm]?m|[mk]g|m²|m³|kg/m²|kg/m³|°C)(?:[^\pL²³/·]|$)`)

// CheckImperial holds text for readers of feet and inches to these units.
func CheckImperial(t *testing.T, text string) {
	t.Helper()
	for _, m := range metric.FindAllString(strings.Join(strings.Fields(text), " "), -1) {
		t.Errorf("imperial text says %q", m)
	}
}

// ErrFull is what every write to a [FullDisk] fails with.
var ErrFull = errors.New("no space left on device")

// FullDisk is a writer that takes nothing.
type FullDisk struct{}

// Write implements io.Writer.
func (FullDisk) Write([]byte) (int, error) { return 0, ErrFull }

// Written returns what a report writes: a page, JSON or CSV.
func Written[R any](t testing.TB, write func(io.Writer, R) error, r R) string {
	t.Helper()
	var b strings.Builder
	if err := write(&b, r); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

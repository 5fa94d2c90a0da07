// Package trust holds README's table of how far to trust the program to what tests measure. In goes what a
// row is about and what a test has seen; a row that says otherwise fails the test. With the flag -update
// the row is written anew:
//
//	go test -p 1 ./model/mode -run FreeDecay -update
//
// Tests that take minutes, and those that need the open data, hold their rows when they run.
package trust

import (
	"errors"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
)

var update = flag.Bool("update", false, "write the rows of README's table anew instead of comparing with them")

// heading begins the part of README that holds the table.
const heading = "## How far to trust it\n"

// Row is one line of the table.
type Row struct {
	What, Against, Seen, Renewed string
}

// Seen fails a test if the row about something says anything else than what the test has seen. The
// arguments are those of [fmt.Sprintf].
func Seen(t testing.TB, what, format string, args ...any) {
	t.Helper()
	rows := Rows(t)
	i := slices.IndexFunc(rows, func(r Row) bool { return r.What == what })
	if i < 0 {
		t.Fatalf("trust: README's table has no row about %s", what)
	}
	seen := fmt.Sprintf(format, args...)
	switch {
	case rows[i].Seen == seen:
	case *update:
		rewrite(t, rows[i], seen)
	default:
		t.Errorf("trust: README says of %s: %q; seen now: %q. If that is right, run this test with -update", what, rows[i].Seen, seen)
	}
}

// Figure writes a figure to so many digits as README does: 0.03, 1.3e-4.
func Figure(v float64, digits int) string {
	if math.Abs(v) < 1e-3 {
		return strings.Replace(strconv.FormatFloat(v, 'e', digits-1, 64), "e-0", "e-", 1)
	}
	return strconv.FormatFloat(v, 'g', digits, 64)
}

// Within writes the worst error there was as [Figure] does, rounded up.
func Within(v float64, digits int) string {
	step := math.Pow(10, math.Floor(math.Log10(v))-float64(digits-1))
	return Figure(math.Ceil(v/step)*step, digits)
}

// Figures writes several with strokes between them: 0.004 / 0.04 / 0.13.
func Figures(digits int, list ...float64) string {
	words := make([]string, len(list))
	for i, v := range list {
		words[i] = Figure(v, digits)
	}
	return strings.Join(words, " / ")
}

// Rows returns the rows of the table.
func Rows(t testing.TB) []Row {
	t.Helper()
	text, err := os.ReadFile(readme(t))
	if err != nil {
		t.Fatal(err)
	}
	_, rest, ok := strings.Cut(string(text), heading)
	if !ok {
		t.Fatalf("trust: README has no part %q", strings.TrimSpace(heading))
	}
	part, _, _ := strings.Cut(rest, "\n## ")
	var rows []Row
	for line := range strings.Lines(part) {
		if cells := strings.Split(strings.TrimSpace(line), " | "); len(cells) == 4 {
			rows = append(rows, Row{strings.TrimPrefix(cells[0], "| "), cells[1], cells[2], strings.TrimSuffix(cells[3], " |")})
		}
	}
	if len(rows) < 2 {
		t.Fatal("trust: README's table has no rows")
	}
	return rows[1:] // below the head
}

var writing sync.Mutex

// rewrite gives a row what was seen.
func rewrite(t testing.TB, r Row, seen string) {
	writing.Lock()
	defer writing.Unlock()
	path := readme(t)
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	line := func(seen string) string {
		return "| " + strings.Join([]string{r.What, r.Against, seen, r.Renewed}, " | ") + " |"
	}
	anew := strings.Replace(string(text), line(r.Seen), line(seen), 1)
	part := path + ".part" // other tests may be reading
	if err := errors.Join(os.WriteFile(part, []byte(anew), 0o644), os.Rename(part, path)); err != nil {
		t.Fatal(err)
	}
}

// readme returns the path of README.md, beside go.mod above the folder of the test.
func readme(t testing.TB) string {
	t.Helper()
	at, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(at, "go.mod")); err == nil {
			return filepath.Join(at, "README.md")
		}
		if at == filepath.Dir(at) {
			t.Fatal("trust: no go.mod above this test")
		}
		at = filepath.Dir(at)
	}
}

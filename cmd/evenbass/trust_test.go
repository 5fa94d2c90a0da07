package main

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// seenRow matches where a test holds a row of README's table to what it has seen.
var seenRow = regexp.MustCompile(`trust\.Seen\(t, ("(?:[^"\\]|\\.)*")`)

// Every row of README's table of trust is held by a test, and the command that renews it runs tests of the
// same part of the tree.
func TestTrustRowsAreHeld(t *testing.T) {
	t.Parallel()
	held := map[string]string{} // folder of the test, by row
	for _, part := range []string{"cmd", "model", "optimize", "report"} {
		err := filepath.WalkDir(filepath.Join(repository, part), func(path string, _ fs.DirEntry, err error) error {
			if err != nil || !strings.HasSuffix(path, "_test.go") {
				return err
			}
			text, err := os.ReadFile(path)
			for _, m := range seenRow.FindAllSubmatch(text, -1) {
				what, _ := strconv.Unquote(string(m[1]))
				folder, _ := filepath.Rel(repository, filepath.Dir(path))
				held[what] = "./" + filepath.ToSlash(folder)
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	readme, err := os.ReadFile(filepath.Join(repository, "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	_, table, _ := strings.Cut(string(readme), "| what | against | seen | renewed by |\n|---|---|---|---|\n")
	table, _, _ = strings.Cut(table, "\n\n")
	for line := range strings.SplitSeq(table, "\n") {
		cells := strings.Split(strings.Trim(line, "| "), " | ")
		if len(cells) != 4 {
			t.Fatalf("not a row of four cells: %s", line)
		}
		what, renewed := cells[0], cells[3]
		folder, ok := held[what]
		delete(held, what)
		switch {
		case !ok:
			t.Errorf("no test holds the row about %s", what)
		case strings.Contains(renewed, "make longtest") && strings.HasPrefix(folder, "./optimize"):
		case !strings.Contains(renewed, folder) && !renewsAll(renewed, folder):
			t.Errorf("%s: a test in %s holds the row, and README renews it by %s", what, folder, renewed)
		}
	}
	for what, folder := range held {
		t.Errorf("a test in %s holds a row about %s, which README lacks", folder, what)
	}
}

// renewsAll reports whether a command runs the tests of a folder among those of one above it.
func renewsAll(command, folder string) bool {
	above, _, ok := strings.Cut(command, "/...")
	return ok && strings.HasPrefix(folder, above[strings.LastIndex(above, " ")+1:])
}

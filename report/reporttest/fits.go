package reporttest

import (
	"strings"
	"testing"
)

// mostLines is how many lines the text of a command has unless everything is asked for.
const mostLines = 40

// CheckFits checks that a text fits a terminal of 40 lines.
func CheckFits(t *testing.T, text string) {
	t.Helper()
	if n := strings.Count(text, "\n"); n > mostLines {
		t.Errorf("%d lines, want %d at most:\n%s", n, mostLines, text)
	}
}

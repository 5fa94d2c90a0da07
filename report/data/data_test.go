package data

import "testing"

// A name that begins like a formula stays a name in a spreadsheet.
func TestSafeCell(t *testing.T) {
	t.Parallel()
	if got := SafeCell("=1+1"); got != "'=1+1" {
		t.Errorf("%q", got)
	}
}

package roomfile

import (
	"fmt"
	"strings"
	"testing"
)

// A file with every list at its longest, in which no zone has a place, is still
// answered: the search for a free place is bounded by the length of the lists.
func TestLongestLists(t *testing.T) {
	t.Parallel()
	entries := func(format string) string {
		var all []string
		for i := range maxItems {
			all = append(all, fmt.Sprintf(format, i))
		}
		return "[" + strings.Join(all, ", ") + "]"
	}
	text := strings.Replace(valid, "speakers: {", "speakers: {axis_height: "+entries("1.%02d m")+
		", may_stand: "+entries("{x: 0.4 m to 1.%02d m}")+", ", 1) +
		"blocks: " + entries("{name: b, from: [0 m, 0 m, 0 m], to: [0.3%02d m, 0.3 m, 0.1 m]}") + "\n" +
		"keep_clear: " + entries("{name: cable %d, from: [0 m, 0.3 m, 0 m], to: [4.6 m, 3.2 m, 2 m]}") + "\n" +
		"openings: " + entries("{kind: door, wall: left, from: 1.%02d m, width: 0.01 m, height: 2 m, construction: concrete, swing: inward}") + "\n"
	faults := faultsOf(t, strings.NewReader(text))
	if len(faults) != maxFaults || !strings.Contains(faults[0].text(), `"cable 0"`) {
		t.Errorf("got %d faults, the first %q", len(faults), faults[0].text())
	}
}

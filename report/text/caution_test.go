package text

import (
	"evenbass/report/unit"
	"strings"
	"testing"
)

// Every caution that concerns absorbers is there, by what it is about.
func TestAbsorberCautions(t *testing.T) {
	said := strings.ToLower(strings.Join(CautionLines(AbsorberCautions(unit.Metric)), "\n"))
	if n := len(AbsorberCautions(unit.Metric)); n != 6 {
		t.Errorf("%d cautions, want 6", n)
	}
	for _, word := range []string{"fibre", "mineral wool", "fire class", "film", "foam", "damp", "cold wall", "ceiling", "lift", "heater", "licensed trades"} {
		if !strings.Contains(said, word) {
			t.Errorf("no caution speaks of %q", word)
		}
	}
}

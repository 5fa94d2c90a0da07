package reporttest

import (
	"regexp"
	"strings"
	"testing"
)

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

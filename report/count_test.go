package report

import "testing"

// One and many, as one reads them aloud.
func TestCount(t *testing.T) {
	t.Parallel()
	for want, got := range map[string]string{
		"1 piece": count(1, "piece"), "3 pieces": count(3, "piece"), "0 batts": count(0, "batt"),
		"1 pack of 8": count(1, "pack of 8"), "2 packs of 8": count(2, "pack of 8"),
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

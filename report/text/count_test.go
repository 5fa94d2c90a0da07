package text

import "testing"

// One and many, as one reads them aloud.
func TestCount(t *testing.T) {
	t.Parallel()
	for want, got := range map[string]string{
		"1 piece": Count(1, "piece"), "3 pieces": Count(3, "piece"), "0 batts": Count(0, "batt"),
		"1 pack of 8": Count(1, "pack of 8"), "2 packs of 8": Count(2, "pack of 8"),
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

package dip

import (
	"strings"
	"testing"

	"evenbass/model"
	"evenbass/model/mode"
	"evenbass/optimize/cause"
	"evenbass/report/unit"
)

// At most two boundaries that a builder can treat are named; no cause has a sentence of its own.
func TestCauseText(t *testing.T) {
	f := cause.Dip{Moves: cause.Stays}
	if got := CauseText(f, unit.Metric); got != "No single wall or mode causes it. Moving seat or speakers changes its depth, not its frequency." {
		t.Errorf("no cause is reported as %q", got)
	}
	for _, face := range []model.Face{model.Floor, model.Ceiling, model.Left, model.Back, model.Front} {
		f.Causes = append(f.Causes, cause.Cause{Suspect: cause.Suspect{Boundary: face}, Cure: 5})
	}
	want := "Cause: ceiling (without it the dip shrinks by 5.0 dB); left wall (without it the dip shrinks by 5.0 dB). " +
		"Moving seat or speakers changes its depth, not its frequency."
	if got := CauseText(f, unit.Metric); got != want {
		t.Errorf("five causes are reported as %q", got)
	}
	f.Feature.Peak = true
	if got := CauseText(f, unit.Metric); !strings.Contains(got, "without it the peak shrinks") {
		t.Errorf("a peak's cause is reported as %q", got)
	}
}

// A boundary is named with its distance in the reader's units, and with both distances
// where the speakers differ.
func TestSuspectText(t *testing.T) {
	t.Parallel()
	at := func(f model.Face, a, b float64) cause.Suspect {
		return cause.Suspect{Boundary: f, Distances: [2]float64{a, b}}
	}
	for _, c := range []struct {
		suspect cause.Suspect
		style   unit.Style
		want    string
	}{
		{at(model.Front, 0.9, 1.1), unit.Metric, "front wall 0.90 m and 1.10 m from the woofers"},
		{at(model.Back, 2, 2), unit.Metric, "back wall 2.00 m behind the ears"},
		{at(model.Left, 2.2, 2.2), unit.Metric, "left wall 2.20 m from the left woofer"},
		{at(model.Right, 2.2, 2.2), unit.Metric, "right wall 2.20 m from the right woofer"},
		{at(model.Floor, 2, 2.001), unit.Metric, "floor 2.00 m below the woofers"},
		{at(model.Ceiling, 2, 2), unit.Metric, "ceiling 2.00 m above the ears"},
		{at(model.Back, 2.25, 2.25), unit.Imperial, "back wall 7 ft 4 5/8 in behind the ears"},
		{at(model.Back, 2.25, 2.25), unit.Both, "back wall 2.25 m (7 ft 4 5/8 in) behind the ears"},
		{at(model.Left, 0, 0), unit.Imperial, "left wall"}, // a room that is no box
		{cause.Suspect{Kind: cause.ModeSuspect, Mode: mode.Mode{N: [3]int{1, 0, 2}, Frequency: 39.9}}, unit.Imperial, "mode (1,0,2) at 39.9 Hz, tangential"},
	} {
		if got := suspectText(c.suspect, c.style); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// Where modes are not known, none is said not to be the cause.
func TestWallsOnlyCause(t *testing.T) {
	f := cause.Dip{WallsOnly: true}
	if got := CauseText(f, unit.Metric); !strings.HasPrefix(got, "No single wall causes it. Modes were not examined") {
		t.Errorf("cause %q", got)
	}
}

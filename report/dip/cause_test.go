package dip

import (
	"strings"
	"testing"

	"evenbass/model"
	"evenbass/model/mode"
	"evenbass/model/response"
	"evenbass/optimize"
	"evenbass/optimize/cause"
	"evenbass/report/reporttest"
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

// Each outcome of the search for a cure has its sentence.
func TestRemedyText(t *testing.T) {
	t.Parallel()
	move := func(after float64, breaks bool) *cause.Move {
		to := reporttest.Layout(0.6, 0.7, 2.25, 1.2)
		return &cause.Move{Lift: 6.2, Step: optimize.Step{
			Parts: []optimize.Part{optimize.SeatAlong}, From: reporttest.Layout(0.6, 0.7, 2.10, 1.2), To: to, Before: 8.4, After: model.Level(after), Breaks: breaks,
		}}
	}
	wall := func(f model.Face, cure model.Level) *cause.Cause {
		return &cause.Cause{Suspect: cause.Suspect{Boundary: f}, Cure: cure}
	}
	for _, c := range []struct {
		name   string
		remedy *cause.Remedy
		want   string
	}{
		{"not looked for", nil, ""},
		{"good move", &cause.Remedy{Move: move(7.9, false)},
			"A move helps. Seat 15 cm towards the back wall lifts it by 6.2 dB, and takes the spread from ±8.4 to ±7.9 dB."},
		{"good move that breaks a rule", &cause.Remedy{Move: move(8.4, true)},
			"A move helps. Seat 15 cm towards the back wall lifts it by 6.2 dB, and takes the spread from ±8.4 to ±8.4 dB (still breaking a rule of the room file)."},
		{"costly move", &cause.Remedy{Move: move(9.9, false)},
			"No single wall cures it. Seat 15 cm towards the back wall lifts it by 6.2 dB, but takes the spread from ±8.4 to ±9.9 dB."},
		{"wall", &cause.Remedy{Wall: wall(model.Floor, 4.44), Narrow: true},
			"Absorption on the floor would lift it, by 4.4 dB at the very most. No single move up to 35 cm cures it."},
		{"wall and costly move", &cause.Remedy{Wall: wall(model.Back, 7), Move: move(9, false)},
			"Absorption on the back wall would lift it, by 7.0 dB at the very most. A move would too. Seat 15 cm towards the back wall lifts it by 6.2 dB, but takes the spread from ±8.4 to ±9.0 dB."},
		{"narrow", &cause.Remedy{Narrow: true}, "Leave it: it is narrower than 1/6 octave, and nothing we tried cures it."},
		{"narrow and costly", &cause.Remedy{Narrow: true, Move: move(9, false)},
			"Leave it: it is narrower than 1/6 octave. Seat 15 cm towards the back wall lifts it by 6.2 dB, but takes the spread from ±8.4 to ±9.0 dB."},
		{"nothing", &cause.Remedy{}, "Nothing we tried cures it: neither single moves up to 35 cm nor absorption on any one wall."},
	} {
		if got := remedyText(cause.Dip{Remedy: c.remedy}, unit.Metric); got != c.want {
			t.Errorf("%s:\n%s\nwant\n%s", c.name, got, c.want)
		}
	}
}

// A width is written as far as it is known.
func TestWidth(t *testing.T) {
	t.Parallel()
	for want, w := range map[string]response.Width{
		"1/4 octave wide": {Octaves: 0.25}, "1/12 octave wide or less": {Octaves: 1.0 / 12, Narrow: true}, "cut off by the edge of the band": {Octaves: 0.2, Cut: true},
	} {
		f := response.Feature{Frequency: 64.2, Level: -12.1, Width: w}
		if got := Text(f); got != "Dip at 64.2 Hz, left speaker: 12.1 dB below the mean, "+want {
			t.Errorf("%q", got)
		}
	}
	if words := WidthTerm(model.Goal{Smoothing: 24}); !strings.Contains(words, "half way up, in dB") || !strings.Contains(words, "narrower than 1/24 octave") {
		t.Errorf("%q", words)
	}
}

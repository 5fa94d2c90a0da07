package dip

import (
	"testing"

	"evenbass/model"
	"evenbass/optimize"
	"evenbass/optimize/cause"
	"evenbass/report/reporttest"
	"evenbass/report/unit"
)

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
			"A move cures it. Seat 15 cm towards the back wall lifts it by 6.2 dB, and takes the spread from ±8.4 to ±7.9 dB."},
		{"good move that breaks a rule", &cause.Remedy{Move: move(8.4, true)},
			"A move cures it. Seat 15 cm towards the back wall lifts it by 6.2 dB, and takes the spread from ±8.4 to ±8.4 dB (still breaking a rule of the room file)."},
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

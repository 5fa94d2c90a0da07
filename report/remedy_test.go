package report

import (
	"testing"

	"evenbass/model"
	"evenbass/optimize"
	"evenbass/report/reporttest"
)

// Each outcome of the search for a cure has its sentence.
func TestRemedyText(t *testing.T) {
	t.Parallel()
	move := func(after float64, breaks bool) *optimize.Move {
		to := reporttest.Layout(0.6, 0.7, 2.25, 1.2)
		return &optimize.Move{Lift: 6.2, Step: optimize.Step{
			Part: optimize.SeatAlong, From: reporttest.Layout(0.6, 0.7, 2.10, 1.2), To: to, Before: 8.4, After: model.Level(after), Breaks: breaks,
		}}
	}
	wall := func(f model.Face, cure model.Level) *optimize.Cause {
		return &optimize.Cause{Suspect: optimize.Suspect{Boundary: f}, Cure: cure}
	}
	for _, c := range []struct {
		name   string
		remedy *optimize.Remedy
		want   string
	}{
		{"not looked for", nil, ""},
		{"good move", &optimize.Remedy{Move: move(7.9, false)},
			"A move cures it. Seat 15 cm towards the back wall lifts it by 6.2 dB, and takes the spread from ±8.4 to ±7.9 dB."},
		{"good move that breaks a rule", &optimize.Remedy{Move: move(8.4, true)},
			"A move cures it. Seat 15 cm towards the back wall lifts it by 6.2 dB, and takes the spread from ±8.4 to ±8.4 dB (still breaking a rule of the room file)."},
		{"costly move", &optimize.Remedy{Move: move(9.9, false)},
			"No single wall cures it. Seat 15 cm towards the back wall lifts it by 6.2 dB, but takes the spread from ±8.4 to ±9.9 dB."},
		{"wall", &optimize.Remedy{Wall: wall(model.Floor, 4.44), Narrow: true},
			"Absorption on the floor would lift it, by 4.4 dB at the very most. No single move up to 35 cm cures it."},
		{"wall and costly move", &optimize.Remedy{Wall: wall(model.Back, 7), Move: move(9, false)},
			"Absorption on the back wall would lift it, by 7.0 dB at the very most. A move would too. Seat 15 cm towards the back wall lifts it by 6.2 dB, but takes the spread from ±8.4 to ±9.0 dB."},
		{"narrow", &optimize.Remedy{Narrow: true}, "Leave it: it is narrower than 1/6 octave, and nothing we tried cures it."},
		{"narrow and costly", &optimize.Remedy{Narrow: true, Move: move(9, false)},
			"Leave it: it is narrower than 1/6 octave. Seat 15 cm towards the back wall lifts it by 6.2 dB, but takes the spread from ±8.4 to ±9.0 dB."},
		{"nothing", &optimize.Remedy{}, "Nothing we tried cures it: neither single moves up to 35 cm nor absorption on any one wall."},
	} {
		if got := remedyText(optimize.Explained{Remedy: c.remedy}, Metric); got != c.want {
			t.Errorf("%s:\n%s\nwant\n%s", c.name, got, c.want)
		}
	}
}

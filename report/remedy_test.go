package report

import (
	"testing"

	"evenbass/model"
	"evenbass/optimize"
)

// Each outcome of the search for a cure has its sentence.
func TestRemedyText(t *testing.T) {
	t.Parallel()
	move := func(after float64, breaks bool) *optimize.Trial {
		to := fixtureLayout(0.6, 0.7, 2.25, 1.2)
		return &optimize.Trial{Lift: 6.2, Step: optimize.Step{
			Part: optimize.SeatAlong, From: fixtureLayout(0.6, 0.7, 2.10, 1.2), To: to, Before: 8.4, After: model.Level(after), Breaks: breaks,
		}}
	}
	for _, c := range []struct {
		name   string
		remedy *optimize.Remedy
		want   string
	}{
		{"not looked for", nil, ""},
		{"good move", &optimize.Remedy{Move: move(7.9, false)},
			"A move cures it. Head 15 cm towards the back wall lifts it by 6.2 dB, and takes the spread from ±8.4 to ±7.9 dB."},
		{"good move that breaks a rule", &optimize.Remedy{Move: move(8.4, true)},
			"A move cures it. Head 15 cm towards the back wall lifts it by 6.2 dB, and takes the spread from ±8.4 to ±8.4 dB (which still breaks a rule of the room file)."},
		{"costly move", &optimize.Remedy{Move: move(9.9, false)},
			"No single wall cures it. Head 15 cm towards the back wall lifts it by 6.2 dB, but takes the spread from ±8.4 to ±9.9 dB."},
		{"wall", &optimize.Remedy{Wall: "floor", WallLift: 4.44, Narrow: true},
			"It wants absorption at the floor: 4.4 dB is what taking up all sound there would gain. No single move up to 35 cm cures it."},
		{"wall and costly move", &optimize.Remedy{Wall: "back wall", WallLift: 7, Move: move(9, false)},
			"It wants absorption at the back wall: 7.0 dB is what taking up all sound there would gain. A move would do too. Head 15 cm towards the back wall lifts it by 6.2 dB, but takes the spread from ±8.4 to ±9.0 dB."},
		{"narrow", &optimize.Remedy{Narrow: true}, "Leave it: it is narrower than 1/6 octave, and nothing that was tried cures it."},
		{"narrow and costly", &optimize.Remedy{Narrow: true, Move: move(9, false)},
			"Leave it: it is narrower than 1/6 octave. Head 15 cm towards the back wall lifts it by 6.2 dB, but takes the spread from ±8.4 to ±9.0 dB."},
		{"nothing", &optimize.Remedy{}, "Nothing that was tried cures it: single moves up to 35 cm, and each wall taken away."},
	} {
		if got := remedyText(optimize.Explained{Remedy: c.remedy}, Metric); got != c.want {
			t.Errorf("%s:\n%s\nwant\n%s", c.name, got, c.want)
		}
	}
}

package engines

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/response"
	"evenbass/model/wave"
	"evenbass/optimize/testroom"
)

// In a room that rings for seconds, runs that end 40 dB down once they are long enough for the goal
// print the spreads of runs to 70 dB or six seconds, in half of their time. In a damped
// room nothing changes, since no run lasts so long.
func TestSettledRunsKeepTheSpread(t *testing.T) {
	for name, half := range map[string]bool{"concrete-cellar": true, "treated-room": false} {
		p := testroom.Read(t, name)
		grid := Grid(t.Context(), p)
		var spreads [2][]float64
		var seconds [2]float64
		for i, settling := range []float64{0, response.SettlingTime(p.Goal)} {
			room, err := wave.NewRoom(&p.Room, material.Typical, grid, wave.Settings{Cell: 0.25, Zones: sourceZones(p), SettlingTime: settling})
			if err != nil {
				t.Fatal(err)
			}
			r := response.NewReader(grid, room.Air(), p.Goal)
			middle := p.Room.Size.Y / 2
			for _, x := range []float64{1.6, 2.1, 2.5} {
				f, err := room.Field(t.Context(), r3.Vec{X: x, Y: middle, Z: 1.15})
				if err != nil {
					t.Fatal(err)
				}
				seconds[i] += f.(interface{ Seconds() float64 }).Seconds()
				for _, off := range []float64{0.6, 0.8, 1} {
					left := f.Transfer(nil, r3.Vec{X: 0.6, Y: middle - off, Z: 1.01})
					right := f.Transfer(nil, r3.Vec{X: 0.6, Y: middle + off, Z: 1.01})
					spread := r.Spread(response.Pair{Left: left, Right: right}, new(response.Scratch))
					spreads[i] = append(spreads[i], float64(spread))
				}
			}
		}
		worst := 0.0
		for i, v := range spreads[0] {
			worst = max(worst, math.Abs(v-spreads[1][i]))
		}
		t.Logf("%s: %.2f s of sound against %.2f s, spreads %.4f dB off at worst", name, seconds[1]/3, seconds[0]/3, worst)
		if worst > 0.05 {
			t.Errorf("%s: the spread is %.3f dB off", name, worst)
		}
		if got := seconds[1] < 0.6*seconds[0]; got != half {
			t.Errorf("%s: runs last %.2f s, and %.2f s to their end", name, seconds[1]/3, seconds[0]/3)
		}
	}
}

// A goal without smoothing has no window to hide in.
func TestSettlingTime(t *testing.T) {
	if v := response.SettlingTime(model.Goal{From: 30, To: 300}); v != 0 {
		t.Errorf("without smoothing %v s are enough", v)
	}
	twelfth, third := response.SettlingTime(model.Goal{From: 30, To: 300, Smoothing: 12}), response.SettlingTime(model.Goal{From: 30, To: 300, Smoothing: 3})
	if math.Abs(twelfth-2.03) > 0.01 || !(third < twelfth/3.9) {
		t.Errorf("%.2f s for 1/12 octave from 30 Hz, %.2f s for 1/3", twelfth, third)
	}
}

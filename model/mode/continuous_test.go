package mode_test

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/surface"
	"evenbass/model/mode"
	"evenbass/model/response"
	"evenbass/model/trust"
)

// The spread as printed is that of the continuous response. The reference is the same
// exact field in steps of 0.05 to 0.2 Hz, a fifth of the narrowest resonance of each room or
// less; the room that rings for nine seconds is where steps of 1/48 octave were 4 dB off.
func TestSpreadIsThatOfTheContinuousResponse(t *testing.T) {
	const mostRMS, mostWorst = 0.1, 0.3 // dB
	trust.Seen(t, "spread as printed, `mode`, four wall sets from plasterboard to brick and concrete", "at most %g dB rms and %g dB at worst, which the test demands", mostRMS, mostWorst)
	places := 4
	if os.Getenv("EVENBASS_LONG") != "" {
		places = 40
	}
	brick, board := "brick plastered", "plasterboard on studs"
	for _, c := range []struct {
		name  string
		step  float64 // of the reference, Hz
		walls [6]string
	}{
		{"brick and concrete", 0.05, [6]string{brick, brick, brick, brick, "concrete", "concrete"}},
		{"brick, concrete floor, plasterboard ceiling", 0.1, [6]string{brick, brick, brick, brick, "concrete", "plasterboard on joists"}},
		{"brick and plasterboard", 0.2, [6]string{brick, board, brick, board, "timber on joists", "plasterboard on joists"}},
		{"plasterboard", 0.2, [6]string{board, board, board, board, "timber on joists", "plasterboard on joists"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			room := model.Room{Size: r3.Vec{X: 5.1, Y: 3.9, Z: 2.2}}
			for i, w := range c.walls {
				room.Walls[i].Construction = w
			}
			box, _, err := surface.Box(&room, material.Typical)
			if err != nil {
				t.Fatal(err)
			}
			var fine model.Grid
			for i := range int(295/c.step) + 1 {
				fine = append(fine, 20+c.step*float64(i))
			}
			usual := response.GridFor(model.Goal{From: 30, To: 300, Smoothing: 12}, func(f float64) float64 { return mode.SlowestDecay(&box, f) })
			spread := reader(t, box, usual)
			exact := reader(t, box, fine)
			rng := rand.New(rand.NewPCG(7, 0))
			within := func(a, b float64) float64 { return a + (b-a)*rng.Float64() }
			var squares, worst float64
			for range places {
				seat := r3.Vec{X: within(1.6, 4), Y: within(1, 2.9), Z: 1.2}
				left := r3.Vec{X: within(0.3, 1.2), Y: within(0.4, 1.5), Z: 1.05}
				right := r3.Vec{X: left.X, Y: 3.9 - left.Y, Z: left.Z}
				d := spread(seat, left, right) - exact(seat, left, right)
				squares += d * d / float64(places)
				worst = max(worst, math.Abs(d))
			}
			t.Logf("%d frequencies, slowest decay %.2f s: %.3f dB rms, %.3f dB at worst", len(usual), mode.SlowestDecay(&box, 35), math.Sqrt(squares), worst)
			if math.Sqrt(squares) > mostRMS || worst > mostWorst {
				t.Errorf("the spread is %.2f dB rms off, %.2f dB at worst", math.Sqrt(squares), worst)
			}
		})
	}
}

// reader returns what reads the spread of a pair off a box over a grid.
func reader(t *testing.T, box model.Box, grid model.Grid) func(seat, left, right r3.Vec) float64 {
	t.Helper()
	engine, err := mode.New(box, grid, mode.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	r := response.NewReader(grid, engine.Air(), model.Goal{From: 30, To: 300, Smoothing: 12})
	return func(seat, left, right r3.Vec) float64 {
		field, err := engine.Field(t.Context(), seat)
		if err != nil {
			t.Fatal(err)
		}
		pair := response.Pair{Left: field.Transfer(nil, left), Right: field.Transfer(nil, right)}
		return float64(r.Spread(pair, new(response.Scratch)))
	}
}

package study

import (
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/fit"
	"evenbass/model/response"
	"evenbass/model/trust"
	"evenbass/model/wave"
	"evenbass/optimize/engines"
	"evenbass/optimize/testroom"
)

// The spread of rooms by the wave solver, as printed, is that of the continuous response. The
// reference is the same solver on the same cells in steps of 0.05 Hz, or of 0.25 Hz where
// the room is damped; the run is the same, so that nothing but the steps differ. Regret is by how
// much the pair chosen by the printed spread is worse than the best, for each seat.
func TestSpreadOfWaveRoomsIsThatOfTheContinuousResponse(t *testing.T) {
	rooms, seats, cell := []string{"treated-room"}, 1, 0.2
	if os.Getenv("EVENBASS_LONG") != "" {
		rooms, seats, cell = []string{"treated-room", "l-room", "concrete-cellar"}, 10, 0.14
	}
	rmsOf, worstOf, regretOf := make([]float64, len(rooms)), make([]float64, len(rooms)), make([]float64, len(rooms))
	t.Cleanup(func() {
		if len(rooms) == 3 && !t.Failed() {
			trust.Seen(t, "spread as printed, `wave`: treated room, L-shaped room, concrete cellar", "%s dB rms, %s dB at worst; choosing by it costs %.2f dB at most", trust.Figures(2, rmsOf...), trust.Figures(2, worstOf...), slices.Max(regretOf))
		}
	})
	for i, name := range rooms {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			p := testroom.Read(t, name)
			usual := engines.Grid(t.Context(), p)
			step := 0.25
			if name == "concrete-cellar" {
				step = 0.05
			}
			var fine model.Grid
			for f := 20.0; f <= 320; f += step {
				fine = append(fine, f)
			}
			rng := rand.New(rand.NewPCG(7, 0))
			within := func(a, b float64) float64 { return a + (b-a)*rng.Float64() }
			size := p.Room.Size
			var squares, worst, regret, n float64
			fits := new(fit.Memory)
			for range seats {
				seat := r3.Vec{X: within(0.35, 0.55) * size.X, Y: within(0.35, 0.65) * size.Y, Z: 1.2}
				var pairs [4][2]r3.Vec
				var zones []model.Block
				for i := range pairs {
					left := r3.Vec{X: within(0.3, 1.2), Y: within(0.4, 1.4), Z: 1.05}
					pairs[i] = [2]r3.Vec{left, {X: left.X, Y: size.Y - left.Y, Z: left.Z}}
					for _, m := range pairs[i] {
						zones = append(zones, model.Block{Min: m, Max: m})
					}
				}
				spread := func(grid model.Grid) (list [4]float64) {
					room, err := wave.NewRoom(&p.Room, material.Typical, grid, wave.Settings{Cell: cell, Zones: zones, Fits: fits, Memory: 4 << 30})
					if err != nil {
						t.Fatal(err)
					}
					field, err := room.Field(t.Context(), seat)
					if err != nil {
						t.Fatal(err)
					}
					r := response.NewReader(grid, room.Air(), p.Goal)
					for i, m := range pairs {
						list[i] = float64(r.Spread(response.Pair{Left: field.Transfer(nil, m[0]), Right: field.Transfer(nil, m[1])}, new(response.Scratch)))
					}
					return list
				}
				printed, exact := spread(usual), spread(fine)
				regret = max(regret, exact[floats.MinIdx(printed[:])]-floats.Min(exact[:]))
				for i := range printed {
					d := printed[i] - exact[i]
					squares, worst, n = squares+d*d, max(worst, math.Abs(d)), n+1
				}
			}
			rms := math.Sqrt(squares / n)
			rmsOf[i], worstOf[i], regretOf[i] = rms, worst, regret
			t.Logf("%d frequencies: %.3f dB rms, %.3f dB at worst; regret of a choice of four %.3f dB at worst", len(usual), rms, worst, regret)
			if rms > 0.1 || worst > 0.3 || regret > 0.1 {
				t.Errorf("the spread is %.2f dB rms off, %.2f dB at worst; regret %.2f dB", rms, worst, regret)
			}
		})
	}
}

package material

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"evenbass/model"
	"evenbass/model/material/materialtest"
)

func TestUniformBoxReverberation(t *testing.T) {
	t.Parallel()
	// 8 x 5 x 3 m, α = 0.2, 343 m/s. Printed 0.612 s (Sabine) and 0.548 s (Eyring).
	portions := []Portion{{Area: 2 * (8*5 + 8*3 + 5*3), Absorption: 0.2}}
	materialtest.Near(t, "Sabine", Sabine(120, 343, portions), 0.6118246547, 1e-9)
	materialtest.Near(t, "Eyring", Eyring(120, 343, portions), 0.5483686633, 1e-9)
	// The constant, and what ISO 354:2003 makes of it.
	materialtest.Near(t, "24 ln 10", 24*math.Ln10, 55.2620422319, 1e-9)
	materialtest.Near(t, "ISO 354", 24*math.Ln10, 55.3, 0.05)
}

func TestMixedReverberation(t *testing.T) {
	t.Parallel()
	// 3000 m³ with 240, 600 and 500 m² of 0.1, 0.25 and 0.45, 343 m/s: an open
	// acoustics library (python-acoustics) uses it as its own check.
	portions := []Portion{{240, 0.1}, {600, 0.25}, {500, 0.45}}
	materialtest.Near(t, "Sabine", Sabine(3000, 343, portions), 1.211382148, 1e-8)
	materialtest.Near(t, "Eyring", Eyring(3000, 343, portions), 1.020427763, 1e-8)
}

func TestHandbookRoom(t *testing.T) {
	t.Parallel()
	// F. A. Everest, Master Handbook of Acoustics, the example of a 23.3 x 16 x 10 ft
	// room: concrete floor 373 ft², gypsum board 1159 ft², with and without 340 ft²
	// of tile; T = 0.049 V/A in feet.
	const foot = 0.3048
	volume := 3728 * foot * foot * foot
	materialtest.Near(t, "volume", volume, 105.565, 1e-3)
	concrete := [6]float64{0.01, 0.01, 0.015, 0.02, 0.02, 0.02}
	board := [6]float64{0.29, 0.10, 0.05, 0.04, 0.07, 0.09}
	tile := [6]float64{0.09, 0.28, 0.78, 0.84, 0.73, 0.64}
	bare := [6]float64{0.54, 1.53, 2.87, 3.39, 2.06, 1.63}
	tiled := [6]float64{0.49, 0.85, 0.56, 0.54, 0.54, 0.55}
	sabins := [6]float64{370.4, 214.8, 328.8, 339.4, 336.8, 329.4}
	for i := range concrete {
		walls := []Portion{{373 * foot * foot, concrete[i]}, {1159 * foot * foot, board[i]}}
		materialtest.Near(t, fmt.Sprintf("bare, band %d", i), Sabine(volume, 343, walls), bare[i], 0.02)
		walls = append(walls, Portion{340 * foot * foot, tile[i]})
		materialtest.Near(t, fmt.Sprintf("tiled, band %d", i), Sabine(volume, 343, walls), tiled[i], 0.006)
		var a float64
		for _, w := range walls {
			a += w.Area * w.Absorption
		}
		materialtest.Near(t, fmt.Sprintf("sabins, band %d", i), a/(foot*foot), sabins[i], 0.2)
	}
}

func TestStandardRoomWithRoundedAreas(t *testing.T) {
	t.Parallel()
	// EN 12354-6:2003, annex E, 1 kHz: 4.54 x 2.73 x 2.40 m, A = 2.26 m², T = 2.1 s.
	portions := []Portion{{12.39, 0.05}, {12.39, 0.02}, {10.90, 0.04}, {10.90, 0.04}, {6.55, 0.04}, {6.55, 0.04}}
	materialtest.Near(t, "T", Sabine(29.75, 343, portions), 2.1, 0.05)
}

func TestTransitionFrequency(t *testing.T) {
	t.Parallel()
	// Kuttruff, Room Acoustics, the example below eq. 3.44: 200 m³, 1 s, 141 Hz.
	materialtest.Near(t, "Kuttruff's hall", TransitionFrequency(1, 200), 141.42, 5e-3)
	materialtest.Near(t, "50 m³, 0.3 s", TransitionFrequency(0.3, 50), 154.919, 1e-3)
	materialtest.Near(t, "50 m³, 0.4 s", TransitionFrequency(0.4, 50), 178.885, 1e-3)
	defer func() {
		if recover() == nil {
			t.Error("a room without volume does not panic")
		}
	}()
	TransitionFrequency(1, 0)
}

func TestReverberationOfABox(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		alpha := rapid.Float64Range(0.01, 0.9).Draw(t, "α")
		zeta, _ := ImpedanceOfRandom(alpha)
		box := model.Box{Size: r3.Vec{X: 8, Y: 5, Z: 3}, Air: model.Air{Speed: 343, Density: 1.2}}
		for i := range box.Walls {
			box.Walls[i] = model.Plain(complex(1/zeta, 0))
		}
		sabine, eyring := ReverberationTime(&box, 100)
		if want := 24 * math.Ln10 * 120 / (343 * 158 * alpha); math.Abs(sabine/want-1) > 1e-9 {
			t.Fatalf("Sabine %v s, want %v s", sabine, want)
		}
		if eyring >= sabine {
			t.Fatalf("Eyring %v s is not below Sabine %v s", eyring, sabine)
		}
	})
	rigid := model.Box{Size: r3.Vec{X: 8, Y: 5, Z: 3}, Air: model.AirAt(0)}
	if s, e := ReverberationTime(&rigid, 100); !math.IsInf(s, 1) || !math.IsInf(e, 1) {
		t.Errorf("a rigid box rings for %v s, %v s", s, e)
	}
}

func ExampleSabine() {
	// 8 x 5 x 3 m, a tenth of all that arrives is taken up.
	walls := []Portion{{Area: 158, Absorption: 0.1}}
	t := Sabine(120, 343.2, walls)
	fmt.Printf("T = %.2f s, statistics from %.0f Hz\n", t, TransitionFrequency(t, 120))
	// Output: T = 1.22 s, statistics from 202 Hz
}

package lattice

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material/fit"
	"evenbass/model/wave/scene"
)

// Each surface of an outline's walls has its area, off the grid, aslant and where a later
// opening hides a part of an earlier one. An opening counts on its own wall only.
func TestInsetKeepsArea(t *testing.T) {
	t.Parallel()
	air := model.AirAt(0)
	soft := func(beta float64) fit.Branches { return scene.Resistive(beta, air) }
	s := scene.Scene{
		Size: r3.Vec{X: 4, Y: 3.1, Z: 2.45}, Air: air,
		Outline: []r2.Vec{{}, {X: 4}, {X: 4, Y: 1.33}, {X: 2.71, Y: 1.33}, {X: 2.71, Y: 2.3}, {X: 1.91, Y: 3.1}, {Y: 3.1}},
		Edges:   []fit.Branches{2: soft(0.1), 4: soft(0.2)},
	}
	slant := func(along float64) r2.Vec {
		return r2.Vec{X: 2.71 - along*math.Sqrt2/2, Y: 2.3 + along*math.Sqrt2/2}
	}
	back, in := r2.Vec{X: -1}, r2.Vec{X: -math.Sqrt2 / 2, Y: -math.Sqrt2 / 2}
	s.Insets = []scene.Inset{
		{From: r2.Vec{X: 2.71, Y: 1.41}, To: r2.Vec{X: 2.71, Y: 2.2}, Inward: back, High: 2, Surface: soft(0.3)},
		{From: slant(0.9), To: slant(0.12), Inward: in, Low: 0.93, High: 2.01, Surface: soft(0.4)},
		{From: slant(0.5), To: slant(0.7), Inward: in, Low: 1.5, High: 2.2, Surface: soft(0.5)},
	}
	m := New(&s, 0.1)
	area := map[float64]float64{}
	for _, w := range m.Walls {
		area[math.Round(10*real(m.Surfaces[w.Surface].Admittance(100)))/10] += w.Area
	}
	for beta, want := range map[float64]float64{
		0.1: 1.29 * 2.45,
		0.2: 0.8*math.Sqrt2*2.45 - 0.78*1.08 - 0.2*0.19, // less both openings
		0.3: 0.79 * 2,
		0.4: 0.78*1.08 - 0.2*0.51,
		0.5: 0.2 * 0.7,
	} {
		tol := 1e-3 * want
		if beta == 0.4 || beta == 0.2 { // in cells that hold edges of both, what is hidden is shared out by area
			tol = 5e-3
		}
		if math.Abs(area[beta]-want) > tol {
			t.Errorf("surface of %g: %.4f m², want %.4f", beta, area[beta], want)
		}
	}
}

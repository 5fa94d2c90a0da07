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

// A film under 45 degrees through the middles of cells, worked by hand: three of six cells behind it
// get half a cell each from the four before it, and the two at the ends a quarter more. The volume of
// all is that of the room. A cell before it keeps one half, and its open faces are whole.
func TestCutSlant(t *testing.T) {
	t.Parallel()
	s := scene.Scene{Size: r3.Vec{X: 1, Y: 0.8, Z: 0.2}, Air: model.AirAt(0)}
	s.Slants = []scene.Slant{{Axis: 2, To: 0.2, Height: -0.4, Rise: r2.Vec{X: 1, Y: 1}, Stretch: 1}}
	s.Films = []scene.Film{{Min: r3.Vec{X: 0.5}, Max: r3.Vec{X: 0.5, Y: 0.8, Z: 0.2}}}
	m := New(&s, 0.1)
	var sum float64
	m.Each(func(i int, _ [3]int) { sum += m.volume[i] })
	if math.Abs(sum-10*8*2) > 1e-9 {
		t.Errorf("%v cells of air, want %v", sum, 10*8*2)
	}
	for _, test := range []struct {
		x, y int
		want float64
	}{{0, 3, 0.5}, {1, 2, 0.5}, {0, 2, 1.75}, {1, 1, 1.5}, {2, 0, 1.75}, {0, 1, 1}, {0, 4, 1}} {
		i := m.At(test.x, test.y, 1)
		if math.Abs(m.volume[i]-test.want) > 1e-9 {
			t.Errorf("cell %d, %d holds %v of a cell, want %v", test.x, test.y, m.volume[i], test.want)
		}
		if m.open[0][i] != 1 || m.open[1][i] != 1 {
			t.Errorf("cell %d, %d: faces open %v and %v, want whole ones", test.x, test.y, m.open[0][i], m.open[1][i])
		}
	}
}

// Shares in front of a slant, by hand.
func TestFrontOfSlant(t *testing.T) {
	t.Parallel()
	s := scene.Slant{Height: -1, Rise: r2.Vec{X: 1, Y: 1}}
	for _, test := range []struct {
		at   float64 // lower corner of a square of 0.4, on both axes
		want float64
	}{{0.5, 1}, {0.3, 0.5}, {0.1, 0}, {0.2, 0.125}} {
		low, high := r2.Vec{X: test.at, Y: test.at}, r2.Vec{X: test.at + 0.4, Y: test.at + 0.4}
		if got := s.Front(low, high); math.Abs(got-test.want) > 1e-9 {
			t.Errorf("square at %v: %v in front, want %v", test.at, got, test.want)
		}
	}
	if got := s.FrontOf(r2.Vec{X: 0.5}, r2.Vec{X: 0.5, Y: 0.8}); math.Abs(got-0.375) > 1e-9 {
		t.Errorf("a line has %v in front, want 0.375", got)
	}
}

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

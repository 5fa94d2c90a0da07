package lattice

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
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

package response

import (
	"math"
	"testing"

	"evenbass/model"
)

// Of two curves a constant d apart the standard deviation is d/2 at every frequency;
// of three at 0, d and 2d it is d·√(2/3); by hand.
func TestBetweenOfEvenCurves(t *testing.T) {
	t.Parallel()
	grid := model.NewGrid(20, 320, 12, 0)
	r := NewReader(grid, model.AirAt(0), model.Goal{From: 30, To: 300, Smoothing: 12})
	even := func(l model.Level) []model.Level {
		c := make([]model.Level, len(grid))
		for i := range c {
			c[i] = l + model.Level(i%3) // a shape that all share does not count
		}
		return c
	}
	for _, c := range []struct {
		curves [][]model.Level
		want   float64
	}{
		{nil, 0}, {[][]model.Level{even(3)}, 0}, {[][]model.Level{even(3), even(3)}, 0},
		{[][]model.Level{even(0), even(6)}, 3}, {[][]model.Level{even(0), even(3), even(6)}, 3 * math.Sqrt(2.0/3)},
	} {
		if got := float64(r.Between(c.curves)); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%d curves: %g dB, want %g", len(c.curves), got, c.want)
		}
	}
}

// What differs outside the band does not count, and half the band in octaves counts
// half.
func TestBetweenKeepsToTheBand(t *testing.T) {
	t.Parallel()
	grid := model.NewGrid(20, 320, 48, 0)
	r := NewReader(grid, model.AirAt(0), model.Goal{From: 40, To: 160, Smoothing: 12})
	a, b, c := make([]model.Level, len(grid)), make([]model.Level, len(grid)), make([]model.Level, len(grid))
	for i, f := range grid {
		switch {
		case f < 39 || f > 161:
			b[i] = 10
		case f < 80:
			c[i] = 4
		}
	}
	if got := r.Between([][]model.Level{a, b}); got > 1e-9 {
		t.Errorf("%g dB from beyond the band", got)
	}
	if got := float64(r.Between([][]model.Level{a, c})); math.Abs(got-1) > 0.03 {
		t.Errorf("4 dB over one octave of two give %g dB, want 1", got)
	}
}

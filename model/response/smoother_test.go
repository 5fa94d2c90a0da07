package response

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"evenbass/model"
)

// IEC 61260-1:2014 eqs. (1)-(5), as computed by the python-acoustics library's
// iec_61260_1_2014.py; third octaves, octaves and two even fractions.
func TestBand(t *testing.T) {
	for _, c := range []struct {
		b, x                 int
		lower, centre, upper float64
	}{
		{3, -15, 28.183829, 31.622777, 35.481339},
		{3, -13, 44.668359, 50.118723, 56.234133},
		{3, -12, 56.234133, 63.095734, 70.794578},
		{3, -11, 70.794578, 79.432823, 89.125094},
		{3, -10, 89.125094, 100, 112.201845},
		{3, -9, 112.201845, 125.892541, 141.253754},
		{3, -8, 141.253754, 158.489319, 177.827941},
		{3, -6, 223.872114, 251.188643, 281.838293},
		{1, -5, 22.387211, 31.622777, 44.668359},
		{1, -4, 44.668359, 63.095734, 89.125094},
		{1, -3, 89.125094, 125.892541, 177.827941},
		{1, -2, 177.827941, 251.188643, 354.813389},
		{6, -29, 0, 37.583740, 0},
		{6, -28, 0, 42.169650, 0},
		{6, -27, 0, 47.315126, 0},
		{24, 0, 0, 1014.495208, 0},
		{24, -48, 0, 254.829675, 0},
	} {
		lower, centre, upper := Band(c.b, c.x)
		if math.Abs(centre-c.centre) > 1e-6 {
			t.Errorf("1/%d octave, band %d: centre %.6f Hz, want %.6f", c.b, c.x, centre, c.centre)
		}
		if c.lower > 0 && (math.Abs(lower-c.lower) > 1e-6 || math.Abs(upper-c.upper) > 1e-6) {
			t.Errorf("1/%d octave, band %d: %.6f-%.6f Hz, want %.6f-%.6f", c.b, c.x, lower, upper, c.lower, c.upper)
		}
	}
}

// A constant stays itself and a power that is straight in lg f stays itself
// wherever the window is whole, at any fraction and on an uneven grid.
func TestSmootherKeepsStraightLines(t *testing.T) {
	grid := model.DefaultGrid()
	rapid.Check(t, func(t *rapid.T) {
		b := rapid.IntRange(1, 48).Draw(t, "b")
		slope := rapid.Float64Range(-0.3, 3).Draw(t, "slope")
		s := NewSmoother(grid, b)
		power := make([]float64, len(grid))
		for i, f := range grid {
			power[i] = 1 + slope*math.Log(f/20)
		}
		got := s.Power(make([]float64, len(grid)), power)
		half := math.Pow(octaveRatio, 1/float64(2*b))
		for i, f := range grid {
			if f/half < 20 || f*half > 315 {
				continue
			}
			if math.Abs(got[i]-power[i]) > 1e-9 {
				t.Fatalf("1/%d octave at %.2f Hz: %v, want %v", b, f, got[i], power[i])
			}
		}
	})
}

// A mean is never outside what it averages.
func TestSmootherIsAMean(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		grid := model.NewGrid(20, 315, rapid.IntRange(3, 96).Draw(t, "per octave"), 0)
		power := rapid.SliceOfN(rapid.Float64Range(0, 10), len(grid), len(grid)).Draw(t, "power")
		s := NewSmoother(grid, rapid.IntRange(1, 48).Draw(t, "b"))
		lowest, highest := math.Inf(1), 0.0
		for _, v := range power {
			lowest, highest = min(lowest, v), max(highest, v)
		}
		for i, v := range s.Power(make([]float64, len(grid)), power) {
			if v < lowest-1e-9 || v > highest+1e-9 {
				t.Fatalf("at %v Hz: mean %v of %v..%v", grid[i], v, lowest, highest)
			}
		}
	})
}

// The window of a step in power half way through the band passes half of it.
func TestSmootherAcrossAStep(t *testing.T) {
	grid := model.NewGrid(50, 200, 960, 0)
	power := make([]float64, len(grid))
	for i, f := range grid {
		if f >= 100 {
			power[i] = 1
		}
	}
	got := NewSmoother(grid, 3).Power(make([]float64, len(grid)), power)
	if v := got[grid.Nearest(100)]; math.Abs(v-0.5) > 0.005 {
		t.Errorf("at the step: %v, want 0.5", v)
	}
	lower, upper := 100/math.Pow(octaveRatio, 1.0/6), 100*math.Pow(octaveRatio, 1.0/6)
	if v := got[grid.Nearest(lower)-2]; v != 0 {
		t.Errorf("below the window: %v, want 0", v)
	}
	if v := got[grid.Nearest(upper)+2]; math.Abs(v-1) > 1e-9 {
		t.Errorf("above the window: %v, want 1", v)
	}
}

func TestNewSmootherPanics(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("a fraction of zero was accepted")
		}
	}()
	NewSmoother(model.DefaultGrid(), 0)
}

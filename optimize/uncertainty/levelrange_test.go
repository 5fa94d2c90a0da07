package uncertainty

import (
	"math"
	"testing"

	"evenbass/model"
)

// A curve straight over lg f is unchanged on the grid of ranges, and beyond its ends the last level
// holds.
func TestRangeLevels(t *testing.T) {
	t.Parallel()
	grid := model.NewGrid(25, 300, 5, 0)
	curve := make([]model.Level, len(grid))
	for i, f := range grid {
		curve[i] = model.Level(10 * math.Log10(f))
	}
	for k, got := range rangeLevels(grid, curve, 3) {
		want := 10*math.Log10(min(max(rangeGrid()[k], 25), 300)) - 3
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("%.1f Hz: %v, want %v", rangeGrid()[k], got, want)
		}
	}
}

// Ranges, by hand: of levels 5, 7, 8 and 9 a tenth is below 5.6 and a tenth above 8.7, as for
// every other figure of [count].
func TestRanges(t *testing.T) {
	t.Parallel()
	var all [][]reading
	for _, level := range []float64{7, 5, 9, 8} {
		var o reading
		for c := range o.levels {
			o.levels[c] = make([]float64, len(rangeGrid()))
			for k := range o.levels[c] {
				o.levels[c][k] = level + float64(c)
			}
		}
		all = append(all, []reading{o})
	}
	s := count(all, 1)
	for c, r := range s.Ranges[0] {
		last := len(s.Grid) - 1
		if math.Abs(r.Low[last]-5.6-float64(c)) > 1e-12 || math.Abs(r.High[0]-8.7-float64(c)) > 1e-12 {
			t.Errorf("channel %d: %v to %v", c, r.Low[last], r.High[0])
		}
	}
}

package uncertainty

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/gonum/stat"

	"evenbass/model"
	"evenbass/model/material/surface"
)

// TestTrialsOfCalibrated holds the trials of a calibrated room to the deviations and the correlation that its
// calibration left, and leaves those of any other room as they were.
func TestTrialsOfCalibrated(t *testing.T) {
	room := &model.Room{Size: r3.Vec{X: 4, Y: 3, Z: 2.4}}
	if !slices.Equal(TrialsOf(room, 5, 3), Trials(5, 3)) {
		t.Error("a room without a calibration has other trials")
	}
	c := &model.Calibration{From: []string{"a"}, Size: [3]model.Fitted{{Value: -0.02, Deviation: 0.004}, {Value: 0, Deviation: 0.008}, {Value: 0, Deviation: 0.012}}}
	c.Correlation = make([]float64, model.FittedFigures*(model.FittedFigures-1)/2)
	c.Correlation[0] = -0.8      // back and front wall
	c.Correlation[6*7/2+6] = 0.9 // width and length
	room.Calibration = c
	for _, f := range []model.Face{model.Front, model.Back} {
		room.Walls[f].Fit = model.WallFit{Shift: model.Fitted{Value: 1, Deviation: 0.2}, Slope: model.Fitted{Deviation: 0.1}}
	}
	const n = 4000
	list, plain := TrialsOf(room, n, 3), Trials(n, 3)
	var front, back, length, width []float64
	for i, d := range list {
		front, back = append(front, d.Walls[model.Front]), append(back, d.Walls[model.Back])
		length, width = append(length, d.Size.X), append(width, d.Size.Y)
		if d.Walls[model.Left] != plain[i].Walls[model.Left] || d.Marks != plain[i].Marks || d.Temperature != plain[i].Temperature {
			t.Fatal("what was not fitted is drawn differently")
		}
	}
	// A normal distribution cut at ±1.645 deviations, the tails put there, has a deviation of 0.92.
	if got := stat.StdDev(front, nil) * surface.RangeDeviations; math.Abs(got-0.92) > 0.03 {
		t.Errorf("walls are drawn with %.3f deviations", got)
	}
	if got := stat.Correlation(front, back, nil); math.Abs(got+0.8) > 0.05 {
		t.Errorf("walls are correlated by %.3f, want -0.8", got)
	}
	if got := stat.StdDev(length, nil); math.Abs(got/0.004-1) > 0.05 {
		t.Errorf("lengths deviate by %.5f m, want 0.004", got)
	}
	if got := stat.Correlation(length, width, nil); math.Abs(got-0.9) > 0.03 {
		t.Errorf("sizes are correlated by %.3f, want 0.9", got)
	}
	if box := (Trial{}).Box(room, model.Box{}); box.Size != room.TrueSize() || box.Size.X != 3.98 {
		t.Errorf("a trial without errors has the size %v", box.Size)
	}
}

// TestImpossibleCorrelation holds that rounded figures which no errors could have still give trials.
func TestImpossibleCorrelation(t *testing.T) {
	c := &model.Calibration{Correlation: make([]float64, model.FittedFigures*(model.FittedFigures-1)/2)}
	for i := range c.Correlation {
		c.Correlation[i] = -0.9
	}
	if lower := factor(c); lower == nil || lower.At(0, 0) != 1 {
		t.Error("no factor")
	}
}

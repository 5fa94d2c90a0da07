package response

import (
	"math"
	"testing"

	"evenbass/model"
)

// A level that is 3 dB everywhere is 3 dB in every third octave, and the bands are those that
// lie in 20 to 315 Hz as a whole: 25 to 250 Hz (edges of 20 Hz: 17.8 and 22.4 Hz, of 315 Hz:
// 282 and 355 Hz; IEC 61260-1:2014).
func TestThirdOctavesOfEvenCurve(t *testing.T) {
	grid := model.DefaultGrid()
	curve := make([]model.Level, len(grid))
	for i := range curve {
		curve[i] = 3
	}
	list := ThirdOctaves(grid, curve)
	if len(list) != 11 || list[0].Band != 25 || list[10].Band != 250 {
		t.Fatalf("bands are %v", list)
	}
	for _, o := range list {
		if math.Abs(float64(o.Level-3)) > 1e-9 {
			t.Errorf("%v Hz: %v dB", o.Band, o.Level)
		}
	}
}

// Of a response with a deep dip, a band reads the same from the smoothed curve as from a
// reader that smooths the transfer to a third octave, within what the first smoothing blurs.
func TestThirdOctavesOfTransfer(t *testing.T) {
	grid := model.DefaultGrid()
	p := twoPaths(grid, 1.5, 4.1, 0.8)
	fine := NewReader(grid, testAir, model.Goal{From: 30, To: 300, Smoothing: 12})
	wide := NewReader(grid, testAir, model.Goal{From: 30, To: 300, Smoothing: 3})
	smooth := wide.Smooth(p)
	for i, o := range ThirdOctaves(grid, fine.Smooth(p)) {
		exact := math.Pow(10, (float64(14+i))/10)
		if d := math.Abs(float64(o.Level - smooth[grid.Nearest(exact)])); d > 0.5 {
			t.Errorf("%v Hz: %v dB, the reader has %v", o.Band, o.Level, smooth[grid.Nearest(exact)])
		}
	}
}

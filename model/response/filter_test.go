package response

import (
	"fmt"
	"math"
	"math/cmplx"
	"testing"

	"evenbass/model"
)

// At the corner: -3.01 dB for both Butterworth filters, -6.02 dB for Linkwitz-Riley;
// the phase of a low-pass of order n is -45° n there. An octave above, a Butterworth
// filter of order n is 10 lg(1 + 2^2n) down: 12.30 and 24.10 dB (|H|² = 1/(1+x^2n),
// S. Butterworth 1930).
func TestFilters(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		filter         model.Filter
		corner, octave float64 // dB
		phase          float64 // degrees
	}{
		{model.Butterworth2, -3.0103, -12.3045, -90},
		{model.Butterworth4, -3.0103, -24.0993, -180},
		{model.LinkwitzRiley4, -6.0206, -24.6090, -180},
	} {
		for _, corner := range []float64{31, 80} {
			for _, v := range []struct {
				name      string
				got, want float64
			}{
				{"corner", float64(model.LevelOf(cmplx.Abs(LowPass(c.filter, corner, corner)))), c.corner},
				{"octave above", float64(model.LevelOf(cmplx.Abs(LowPass(c.filter, corner, 2*corner)))), c.octave},
				{"high-pass at the corner", float64(model.LevelOf(cmplx.Abs(HighPass(c.filter, corner, corner)))), c.corner},
				{"high-pass an octave below", float64(model.LevelOf(cmplx.Abs(HighPass(c.filter, corner, corner/2)))), c.octave},
				{"cosine of the phase", math.Cos(cmplx.Phase(LowPass(c.filter, corner, corner))), math.Cos(c.phase * math.Pi / 180)},
				{"sine of the phase", math.Sin(cmplx.Phase(LowPass(c.filter, corner, corner))), math.Sin(c.phase * math.Pi / 180)},
			} {
				if math.Abs(v.got-v.want) > 1e-4 {
					t.Errorf("%v, %s: %v, want %v", c.filter, v.name, v.got, v.want)
				}
			}
		}
	}
}

// Linkwitz-Riley low and high add up to an all-pass: flat, and in phase with each
// other everywhere (S. H. Linkwitz 1976).
func TestLinkwitzRileyIsFlat(t *testing.T) {
	t.Parallel()
	for f := 10.0; f < 500; f *= 1.1 {
		low, high := LowPass(model.LinkwitzRiley4, 80, f), HighPass(model.LinkwitzRiley4, 80, f)
		if sum := cmplx.Abs(low + high); math.Abs(sum-1) > 1e-12 {
			t.Errorf("%v Hz: the sum is %v", f, sum)
		}
		if turn := cmplx.Phase(low / high); math.Abs(turn) > 1e-9 {
			t.Errorf("%v Hz: low against high is turned by %v", f, turn)
		}
	}
}

func TestClosedBox(t *testing.T) {
	t.Parallel()
	if l := model.LevelOf(cmplx.Abs(ClosedBox(40, 40))); math.Abs(float64(l)+6.0206) > 1e-4 {
		t.Errorf("at the limit %v dB", l)
	}
	if ClosedBox(0, 20) != 1 || cmplx.Abs(ClosedBox(40, 4000)-1) > 0.02 {
		t.Error("not flat above the limit")
	}
	fall := model.LevelOf(cmplx.Abs(ClosedBox(40, 4))) - model.LevelOf(cmplx.Abs(ClosedBox(40, 2)))
	if math.Abs(float64(fall)-12.04) > 0.01 { // second order: 12.04 dB per octave far below
		t.Errorf("falls by %v dB per octave", fall)
	}
}

func ExampleDelayed() {
	h := Delayed(0.005, 50) // a quarter of a period
	fmt.Printf("%.3f %.1f°\n", cmplx.Abs(h), cmplx.Phase(h)*180/math.Pi)
	// Output: 1.000 -90.0°
}

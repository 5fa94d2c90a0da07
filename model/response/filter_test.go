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

// Butterworth 1930: -3.01 dB at the corner, 6.02 dB per octave and order far below it.
func TestRollOff(t *testing.T) {
	t.Parallel()
	level := func(r model.RollOff, f float64) float64 { return float64(model.LevelOf(cmplx.Abs(RollOff(r, f)))) }
	for _, a := range []model.Alignment{model.Sealed, model.Ported} {
		r := model.RollOff{Limit: 40, Alignment: a}
		if l := level(r, 40); math.Abs(l+3.0103) > 1e-4 {
			t.Errorf("%v: %v dB at the limit", a, l)
		}
		if fall, want := level(r, 4)-level(r, 2), 6.0206*float64(a.Order()); math.Abs(fall-want) > 0.01 {
			t.Errorf("%v: falls by %v dB per octave, want %v", a, fall, want)
		}
		for f := 10.0; f < 400; f *= 1.1 {
			if got, want := level(r, f), float64(r.Level(f)); math.Abs(got-want) > 1e-9 {
				t.Errorf("%v: %v dB at %v Hz, its level is %v dB", a, got, f, want)
			}
		}
	}
	if RollOff(model.RollOff{}, 20) != 1 {
		t.Error("without a limit not flat")
	}
}

func ExampleDelayed() {
	h := Delayed(0.005, 50) // a quarter of a period
	fmt.Printf("%.3f %.1f°\n", cmplx.Abs(h), cmplx.Phase(h)*180/math.Pi)
	// Output: 1.000 -90.0°
}

package response

import (
	"math"
	"slices"
	"testing"

	"evenbass/model"
)

// The level of one resonance, p = A/(γ + j(f - f0)), averaged over a window from a to b:
// the integral of |p|² is (A²/γ)(atan((b-f0)/γ) - atan((a-f0)/γ)). The wide background
// keeps the transfer from falling to nothing. Steps of [Step] hold it wherever
// the resonance lies between them: 0.1 dB on the mean over where it may lie, 0.25 dB at
// worst. Of the many resonances in a room the errors are averaged.
func TestResonanceBetweenGridPoints(t *testing.T) {
	const decay, f0 = 9.0, 60.0
	gamma := math.Log(1000) / (2 * math.Pi * decay)
	var sum, count float64
	for _, offset := range []float64{0, 0.21, 0.37, 0.5, 0.72, 0.9} {
		var grid model.Grid
		for f := 50 + offset*Step(decay); f < 72; f += Step(decay) {
			grid = append(grid, f)
		}
		r := NewReader(grid, testAir, model.Goal{From: 55, To: 66, Smoothing: 12})
		p := make([]complex128, len(grid))
		for i, f := range grid {
			p[i] = complex(1/math.Sqrt(r.scale[2*i]), 0) / complex(gamma, f-f0)
		}
		curve := r.Smooth(p)
		half := math.Pow(octaveRatio, 1.0/24)
		for i, f := range grid {
			if math.Abs(f-f0) > 4 {
				continue
			}
			a, b := f/half, f*half
			// The mean is over ln f: weight by 1/f inside the window, by quadrature at 1/200 of γ.
			var integral float64
			n := int((b - a) / gamma * 200)
			for k := range n {
				x := a + (b-a)*(float64(k)+0.5)/float64(n)
				integral += (b - a) / float64(n) / x / (gamma*gamma + (x-f0)*(x-f0))
			}
			want := 10 * math.Log10(integral/math.Log(b/a))
			if edge := min(math.Abs(a-f0), math.Abs(b-f0)); edge < 3*Step(decay) {
				continue // the peak crosses the window's edge: a matter of a step, not of a level
			}
			if d := float64(curve[i]) - want; math.Abs(d) > 0.25 {
				t.Errorf("offset %.2f, %.2f Hz: %.3f dB, want %.3f", offset, f, curve[i], want)
			} else {
				sum, count = sum+d, count+1
			}
		}
	}
	if mean := sum / count; math.Abs(mean) > 0.1 {
		t.Errorf("%.3f dB off on the mean", mean)
	}
}

// In a damped room the usual frequencies serve; a room that rings for nine seconds wants
// steps of 0.18 Hz; and the usual frequencies are always among those of a room.
func TestGridFor(t *testing.T) {
	usual := model.DefaultGrid()
	if got := GridFor(model.Goal{}, func(float64) float64 { return 0.3 }); !slices.Equal(got, usual) {
		t.Errorf("%d frequencies in a damped room, want the usual %d", len(got), len(usual))
	}
	slow := GridFor(model.Goal{}, func(f float64) float64 { return 9 })
	for i := 1; i < len(slow); i++ {
		if step := slow[i] - slow[i-1]; step > Step(9)*(1+1e-9) {
			t.Fatalf("a step of %.3f Hz at %.1f Hz", step, slow[i])
		}
	}
	for _, f := range usual {
		if !slices.Contains(slow, f) {
			t.Errorf("%.3f Hz is left out", f)
		}
	}
	if !slices.IsSorted(slow) {
		t.Error("frequencies out of order")
	}
}

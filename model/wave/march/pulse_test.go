package march

import (
	"math"
	"math/cmplx"
	"testing"
)

// A pulse's spectrum against its closed form: the slope of exp(-(t/w)²) has
// |Q| = 2πf sqrt(π) w² exp(-(πfw)²).
func TestPulseSpectrum(t *testing.T) {
	t.Parallel()
	q := newPulse(315, 1000, 1e-4)
	for _, f := range []float64{20, 100, 315} {
		got := cmplx.Abs(q.spectrum(complex(2*math.Pi*f*q.step, 0))) * q.step
		want := 2 * math.Pi * f * math.Sqrt(math.Pi) * q.width * q.width * math.Exp(-math.Pow(math.Pi*f*q.width, 2))
		if math.Abs(got/want-1) > 1e-6 {
			t.Errorf("%g Hz: %v, want %v", f, got, want)
		}
	}
	var sum float64
	for n := range q.len {
		sum += q.at(n)
	}
	if math.Abs(sum) > 1e-10 {
		t.Errorf("the pulse leaves %v m³ of air behind", sum)
	}
	top := cmplx.Abs(q.spectrum(complex(2*math.Pi*315*q.step, 0)))
	if beyond := cmplx.Abs(q.spectrum(complex(2*math.Pi*(RecordRate(315)-315)*q.step, 0))); beyond > 1e-4*top {
		t.Errorf("what is folded back on the top of the band is %v of it", beyond/top)
	}
}

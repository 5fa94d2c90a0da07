package wave

import (
	"math"
	"math/cmplx"
	"math/rand/v2"
	"testing"
)

// The fast transform against the plain sum, at phases between the bins.
func TestTransformer(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(1, 2))
	for _, length := range []int{1, 7, 300, 1023} {
		series := make([]float32, length)
		for i := range series {
			series[i] = float32(rng.NormFloat64())
		}
		var phases []complex128
		for range 40 {
			phases = append(phases, complex(rng.Float64()*math.Pi, 0))
		}
		phases = append(phases, 0, complex(math.Pi, 0))
		fast := newTransformer(phases, length)
		if fast.fft == nil {
			t.Fatal("real phases are to go the fast way")
		}
		got, want := make([]complex128, len(phases)), make([]complex128, len(phases))
		fast.transform(got, series)
		fast.sum(want, series)
		for i := range want {
			if cmplx.Abs(got[i]-want[i]) > 2e-6*math.Sqrt(float64(length)) {
				t.Errorf("%d values, phase %.4f: %v, want %v", length, real(phases[i]), got[i], want[i])
			}
		}
	}
}

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
	if beyond := cmplx.Abs(q.spectrum(complex(2*math.Pi*(recordRate(315)-315)*q.step, 0))); beyond > 1e-4*top {
		t.Errorf("what is folded back on the top of the band is %v of it", beyond/top)
	}
}

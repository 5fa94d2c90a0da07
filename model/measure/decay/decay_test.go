package decay

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"evenbass/model/response"
	"evenbass/model/trust"
)

// energyOf returns a squared envelope, so many seconds in steps, both in s, from terms
// {amplitude, decay time in s}.
func energyOf(seconds, step float64, terms ...[2]float64) []float64 {
	e := make([]float64, int(seconds/step))
	for i := range e {
		t := float64(i) * step
		for _, term := range terms {
			e[i] += term[0] * math.Pow(10, -6*t/term[1])
		}
	}
	return e
}

// Decay times of a single exponential, and of the double slope
// .99 e^{-13.8155t/.4} + .01 e^{-13.8155t/1.6} by the ranges of ISO 3382-1 (recomputed by
// numerical integration of the same formula, independent of this code).
func TestEvaluateKnownDecays(t *testing.T) {
	t.Parallel()
	const step = 1e-4
	for _, c := range []struct {
		name          string
		e             []float64
		edt, t20, t30 float64
		curvature     float64
		bent          bool
	}{
		{"single", energyOf(3, step, [2]float64{1, 1}), 1, 1, 1, 0, false},
		{"double slope", energyOf(6, step, [2]float64{0.99, 0.4}, [2]float64{0.01, 1.6}), 0.432233, 0.804050, 1.205664, 49.95, true},
	} {
		b := evaluate(c.e, step)
		for name, v := range map[string][2]float64{"EDT": {b.EDT, c.edt}, "T20": {b.T20, c.t20}, "T30": {b.T30, c.t30}} {
			if math.Abs(v[0]-v[1]) > 2e-3*v[1] {
				t.Errorf("%s: %s %.5f s, want %.5f", c.name, name, v[0], v[1])
			}
		}
		if math.Abs(b.Curvature-c.curvature) > 0.3 || b.Bent() != c.bent {
			t.Errorf("%s: curvature %.2f %%, want %.2f; bent %v", c.name, b.Curvature, c.curvature, b.Bent())
		}
	}
}

// A record of T = 1 s that is cut short: without what lies beyond, T20 and T30 come out short
// by these figures (recomputed from the formula of backward integration, tolerance by steps of
// 1 ms). With it they are true.
func TestTruncationIsCompensated(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ cut, t20, t30 float64 }{
		{0.60, 0.987482, 0.949188}, {0.75, 0.998368, 0.991515}, {1.00, 0.999948, 0.999717},
	} {
		e := energyOf(c.cut, 1e-3, [2]float64{1, 1})
		plain := backward(e, 0, 0)
		if got := decayTime(plain, 1e-3, -5, -25); math.Abs(got-c.t20) > 1.5e-3 {
			t.Errorf("cut at %g s: plain T20 %.5f s, want %.5f", c.cut, got, c.t20)
		}
		if got := decayTime(plain, 1e-3, -5, -35); math.Abs(got-c.t30) > 1.5e-3 {
			t.Errorf("cut at %g s: plain T30 %.5f s, want %.5f", c.cut, got, c.t30)
		}
		b := evaluate(e, 1e-3)
		for name, got := range map[string]float64{"EDT": b.EDT, "T20": b.T20, "T30": b.T30} {
			if got != 0 && math.Abs(got-1) > 0.01 {
				t.Errorf("cut at %g s: %s %.4f s, want 1", c.cut, name, got)
			}
		}
		if !b.Cut {
			t.Errorf("cut at %g s, and not said so", c.cut)
		}
		if b.EDT == 0 || (b.T20 == 0) != (c.cut < 0.65) || (b.T30 == 0) != (c.cut < 0.8) {
			t.Errorf("cut at %g s, range %.1f dB: EDT %v, T20 %v, T30 %v", c.cut, b.Range, b.EDT, b.T20, b.T30)
		}
	}
}

// ringing returns a tone that decays with the time t60 in s after 0.1 s of silence, in white
// noise so many dB below its peak; 4 kHz.
func ringing(f, t60, noise float64) []float64 {
	const rate, begin = 4000.0, 400
	x := make([]float64, int((1.5*t60+1.5)*rate))
	random := rand.New(rand.NewPCG(7, uint64(f)))
	for i := range x {
		if t := float64(i-begin) / rate; i >= begin {
			x[i] = math.Exp(-3*math.Ln10*t/t60) * math.Sin(2*math.Pi*f*t+0.3)
		}
		x[i] += random.NormFloat64() * math.Pow(10, -noise/20)
	}
	return x
}

// Exact exponentials in noise: 10 % wherever the filter is said to resolve them, from B·T = 4
// (ISO 3382-2 §7.3) on.
func TestReadExponentialsInNoise(t *testing.T) {
	t.Parallel()
	const quiet, loud = 0.03, 0.05 // share of the decay time, noise 60 and 50 dB down
	trust.Seen(t, "decay times, exponentials in noise", "within %g / %g %%, which the test demands", 100*quiet, 100*loud)
	for _, c := range []struct{ noise, tolerance float64 }{{200, 0.02}, {60, quiet}, {50, loud}} {
		for i, b := range bands {
			lower, centre, upper := response.Band(3, b.number)
			for _, bt := range []float64{4, 8} {
				want := bt / (upper - lower)
				list, err := Read(ringing(centre, want, c.noise), 4000, 400)
				if err != nil {
					t.Fatal(err)
				}
				got, name := list[i].Time()
				if c.noise < 100 && list[i].Cut {
					t.Errorf("%g Hz, B·T %g, noise -%g dB: said to be cut", b.nominal, bt, c.noise)
				}
				if name != "T30" || math.Abs(got/want-1) > c.tolerance || list[i].Bent() {
					t.Errorf("%g Hz, B·T %g, noise -%g dB: %s %.4f s, want %.4f; curvature %.1f %%", b.nominal, bt, c.noise, name, got, want, list[i].Curvature)
				}
			}
		}
	}
}

// Times that noise hides are not given, and those that the filter cannot resolve are marked.
func TestReadSaysWhatItCannotTell(t *testing.T) {
	t.Parallel()
	hidden, err := Read(ringing(100, 0.5, 5), 4000, 400)
	if err != nil {
		t.Fatal(err)
	}
	if b := hidden[6]; b.T20 != 0 || b.T30 != 0 || b.Resolved() || !math.IsNaN(b.Curvature) {
		t.Errorf("noise 5 dB below: %+v", fmt.Sprintf("T20 %v, T30 %v, curvature %v, range %.1f", b.T20, b.T30, b.Curvature, b.Range))
	}
	fast, err := Read(ringing(50, 0.05, 200), 4000, 400)
	if err != nil {
		t.Fatal(err)
	}
	if b := fast[3]; b.Resolved() || math.Abs(b.Limit-0.3459) > 1e-3 { // 4/(56.2341-44.6684) Hz
		t.Errorf("0.05 s at 50 Hz is resolved: limit %.4f s", b.Limit)
	}
	if _, err := Read(make([]float64, 4000), 4000, 0); err != nil {
		t.Errorf("silence: %v", err)
	}
	short, err := Read(ringing(100, 0.1, 80)[:1640], 4000, 400)
	if err != nil {
		t.Fatal(err)
	}
	if b := short[0]; b.EDT != 0 || b.Range != 0 || len(b.Curve) != 0 {
		t.Errorf("0.3 s tell of 25 Hz: %+v", b)
	}
}

func TestReadRefuses(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		samples []float64
		rate    float64
		begin   int
	}{
		"rate": {make([]float64, 900), 300, 0}, "begin": {make([]float64, 900), 1000, 900}, "empty": {nil, 1000, 0},
		"short": {make([]float64, 900), 1000, 800}, "not a number": {append(make([]float64, 900), math.NaN()), 1000, 0},
	} {
		if _, err := Read(c.samples, c.rate, c.begin); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

func TestOnset(t *testing.T) {
	t.Parallel()
	if got := Onset(ringing(100, 0.5, 60)); got < 400 || got > 405 {
		t.Errorf("the sound begins at sample %d, want 400", got)
	}
	sudden, swelling := make([]float64, 4000), make([]float64, 4000)
	sudden[400] = 1
	for i := 400; i < len(swelling); i++ {
		swelling[i] = math.Sin(2*math.Pi*50*float64(i-400)/4000) * min(1, float64(i-400)/200)
	}
	if _, sure := SureOnset(sudden, 4000); !sure {
		t.Error("an impulse is not sure to begin")
	}
	if _, sure := SureOnset(swelling, 4000); sure {
		t.Error("a sound that swells for 50 ms is sure to begin")
	}
	if got := Onset(make([]float64, 10)); got != 0 {
		t.Errorf("silence begins at %d", got)
	}
}

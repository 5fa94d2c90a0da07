package resonance

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/mode"
	"evenbass/model/mode/modetest"
	"evenbass/model/trust"
)

// partial is one damped tone of a made-up room.
type partial struct{ frequency, rate, amplitude float64 }

// closed is a made-up room with modes as close as 1.6 Hz.
var closed = []partial{
	{31.5, 1.28, 1}, {42.3, 2.2, .7}, {47.06, 1.9, 1}, {55, 2.5, .5}, {58.65, 1.85, 1}, {61.8, 1.32, .6}, {63.4, 1.6, .8},
	{73.42, 1.18, .4}, {76.55, 1.72, 1}, {80.18, 1.71, .9}, {84.49, 1.45, .4}, {92.33, 1.34, .5}, {97.62, .98, 1}, {108.86, 1.36, .9},
}

const testRate = 2000.0

// respond returns three seconds of a made-up room's response after 0.05 s of silence, in white
// noise so many dB below an amplitude of 1. The amplitudes are turned about by the seat.
func respond(room []partial, seat uint64, faster, noise float64) Response {
	random := rand.New(rand.NewPCG(seat, 11))
	r := Response{Samples: make([]float64, int(3*testRate)), Begin: 100}
	for k, p := range room {
		a := p.amplitude * (0.3 + 0.7*random.Float64())
		phase := 2 * math.Pi * random.Float64()
		for i := r.Begin; i < len(r.Samples); i++ {
			t := float64(i-r.Begin) / testRate
			r.Samples[i] += a * math.Exp(-p.rate*faster*t) * math.Cos(2*math.Pi*p.frequency*t+phase+float64(k))
		}
	}
	for i := range r.Samples {
		r.Samples[i] += random.NormFloat64() * math.Pow(10, -noise/20)
	}
	return r
}

// closest returns the mode nearest to a frequency.
func closest(modes []Mode, f float64) Mode {
	best := Mode{Frequency: math.Inf(1)}
	for _, m := range modes {
		if math.Abs(m.Frequency-f) < math.Abs(best.Frequency-f) {
			best = m
		}
	}
	return best
}

// Sums of damped tones are known exactly: frequencies and decay rates as they were put in, at
// one seat and at several, with noise and without, and nothing that was not put in.
func TestFindKnownTones(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		seats         int
		faster, noise float64
		hertz, rate   float64 // tolerances: Hz, share
	}{
		{1, 1, 200, 1e-4, 1e-4}, {1, 5, 200, 2e-3, 2e-3}, {1, 1, 40, 0.02, 0.04}, {1, 1, 20, 0.15, 0.25},
		{4, 5, 60, 0.05, 0.03}, {4, 1, 20, 0.05, 0.08},
	} {
		var responses []Response
		for i := range c.seats {
			responses = append(responses, respond(closed, uint64(i+1), c.faster, c.noise))
		}
		modes, err := Find(responses, testRate, Settings{From: 25, To: 115})
		if err != nil {
			t.Fatal(err)
		}
		name := fmt.Sprintf("%d seats, %g times as fast, noise -%g dB", c.seats, c.faster, c.noise)
		if len(modes) != len(closed) {
			t.Errorf("%s: %d modes, want %d", name, len(modes), len(closed))
		}
		for _, p := range closed {
			m := closest(modes, p.frequency)
			if math.Abs(m.Frequency-p.frequency) > c.hertz || math.Abs(m.Rate/(p.rate*c.faster)-1) > c.rate || len(m.Levels) != c.seats {
				t.Errorf("%s: %.3f Hz, δ %.3f, %d levels; want %.3f Hz, δ %.3f", name, m.Frequency, m.Rate, len(m.Levels), p.frequency, p.rate*c.faster)
			}
		}
	}
}

// The level of a mode is that of its peak in the steady response, A/δ.
func TestLevels(t *testing.T) {
	t.Parallel()
	room := []partial{{50, 2, 1}, {62, 4, 1}}
	r := Response{Samples: make([]float64, 6000), Begin: 0}
	for i := range r.Samples {
		for _, p := range room {
			s := float64(i) / testRate
			r.Samples[i] += p.amplitude * math.Exp(-p.rate*s) * math.Sin(2*math.Pi*p.frequency*s)
		}
	}
	modes, err := Find([]Response{r}, testRate, Settings{From: 40, To: 80})
	if err != nil || len(modes) != 2 {
		t.Fatalf("%d modes, %v", len(modes), err)
	}
	if d := float64(modes[0].Loudest()); d != 0 {
		t.Errorf("the louder one stands at %g dB", d)
	}
	if d := float64(modes[1].Loudest()); math.Abs(d+20*math.Log10(2)) > 0.01 {
		t.Errorf("one that decays twice as fast stands at %.3f dB, want -6.02", d)
	}
}

// Noise alone has no modes that stay.
func TestFindInNoise(t *testing.T) {
	t.Parallel()
	modes, err := Find([]Response{respond(nil, 1, 1, 0), respond(nil, 2, 1, 0)}, testRate, Settings{From: 25, To: 115, Least: 0.8})
	if err != nil {
		t.Fatal(err)
	}
	if len(modes) > 1 {
		t.Errorf("%d modes in noise: %+v", len(modes), modes)
	}
}

// boxResponses returns the impulse responses of a box with locally reacting walls at three
// seats, by the exact sum over its driven modes, in noise 60 dB below their peak.
func boxResponses(t *testing.T, box model.Box) []Response {
	t.Helper()
	const step, rate, top = 0.4, 500.0, 200.0
	var grid model.Grid
	for f := step; f < top; f += step {
		grid = append(grid, f)
	}
	engine := modetest.Engine(t, box, grid)
	var responses []Response
	random := rand.New(rand.NewPCG(5, 5))
	for _, seat := range []r3.Vec{{X: 3.3, Y: 2.3, Z: 1.2}, {X: 4.6, Y: 3.5, Z: 0.4}, {X: 2.1, Y: 0.6, Z: 1.9}} {
		field, err := engine.Field(t.Context(), seat)
		if err != nil {
			t.Fatal(err)
		}
		spectrum := make([]complex128, int(rate/step)/2+1)
		for i, p := range field.Transfer(nil, r3.Vec{X: 0.8, Y: 1.1, Z: 0.6}) {
			fade := math.Cos(math.Pi / 2 * max(0, grid[i]-150) / (top - 150))
			spectrum[i+1] = p * complex(fade*fade, 0)
		}
		x := fourier.NewFFT(int(rate/step)).Sequence(nil, spectrum)
		quarter := len(x) / 4 // what rings before the sound, from the fade
		x = append(append([]float64{}, x[len(x)-quarter:]...), x[:len(x)-quarter]...)
		peak := 0.0
		for _, v := range x {
			peak = max(peak, math.Abs(v))
		}
		for i := range x {
			x[i] += random.NormFloat64() * peak * 1e-3
		}
		responses = append(responses, Response{Samples: x, Begin: quarter + 8})
	}
	return responses
}

// The modes of a box with springy walls ring at the complex eigenvalues of package mode, which
// are held to published and recomputed values there. Every mode that stands apart by a bandwidth
// from its neighbours is found, from the driven field alone.
func TestFindModesOfABox(t *testing.T) {
	t.Parallel()
	box := model.Box{Size: r3.Vec{X: 5, Y: 4, Z: 2.5}, Air: model.Air{Speed: 343, Density: 1.21}}
	for i := range box.Walls {
		box.Walls[i] = model.Plain(0.01 + 0.025i)
	}
	found, err := Find(boxResponses(t, box), 500, Settings{From: 25, To: 105})
	if err != nil {
		t.Fatal(err)
	}
	modes, _ := mode.List(box, 110)
	checked := 0
	var offFrequency, offRate float64
	for i, m := range modes {
		apart := func(j int) bool {
			return j < 0 || j >= len(modes) || math.Abs(modes[j].Frequency-m.Frequency) > m.Bandwidth()
		}
		if m.Frequency > 100 || !apart(i-1) || !apart(i+1) {
			continue
		}
		checked++
		got := closest(found, m.Frequency)
		t.Logf("%v: %.2f Hz, δ %.2f; found %.2f Hz, δ %.2f, confidence %.2f", m, m.Frequency, m.Rate, got.Frequency, got.Rate, got.Confidence)
		offFrequency, offRate = max(offFrequency, math.Abs(got.Frequency-m.Frequency)), max(offRate, math.Abs(got.Rate/m.Rate-1))
		if math.Abs(got.Frequency-m.Frequency) > 0.1 || math.Abs(got.Rate/m.Rate-1) > 0.1 {
			t.Errorf("%v: %.2f Hz, δ %.2f 1/s; want %.2f Hz, δ %.2f", m, got.Frequency, got.Rate, m.Frequency, m.Rate)
		}
	}
	trust.Seen(t, "modes found in responses of a box", "within %s Hz, decay within %s %%", trust.Within(offFrequency, 1), trust.Within(100*offRate, 1))
	if checked < 7 {
		t.Errorf("only %d modes stand apart", checked)
	}
}

func TestFindRefuses(t *testing.T) {
	t.Parallel()
	good := respond(closed[:1], 1, 1, 60)
	short, broken := Response{Samples: good.Samples[:900]}, Response{Samples: append([]float64{math.NaN()}, good.Samples...)}
	for name, c := range map[string]struct {
		responses []Response
		rate      float64
		settings  Settings
	}{
		"none": {nil, testRate, Settings{}}, "short": {[]Response{short}, testRate, Settings{}},
		"not a number": {[]Response{broken}, testRate, Settings{}}, "rate": {[]Response{good}, 500, Settings{}},
		"range": {[]Response{good}, testRate, Settings{From: 100, To: 50}},
		"late":  {[]Response{{Samples: good.Samples, Begin: 5500}}, testRate, Settings{}},
	} {
		if _, err := Find(c.responses, c.rate, c.settings); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	silent := Response{Samples: make([]float64, 4000)}
	if modes, err := Find([]Response{silent}, testRate, Settings{}); err != nil || len(modes) > 0 {
		t.Errorf("silence: %v, %v", modes, err)
	}
}

package sweep

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestMarksInReverberation finds the marks in a room that rings for 0.8 s at 1 to 4 kHz, whose
// reverberation is as strong as the direct sound, with noise 20 dB below the sweep, and a clock
// that is off.
func TestMarksInReverberation(t *testing.T) {
	const rate, drift, start = 48000, 80e-6, 0.6
	s := Default()
	s.Length, s.Pause = 2, 1
	for seed := range uint64(1) {
		rng := rand.New(rand.NewPCG(seed, 7))
		x := make([]float64, int((s.Duration()+1)*rate))
		step := 1 / (rate * (1 + drift))
		delay := []float64{5.2e-3, 6.0e-3}
		play := func(channel int, later, gain float64) {
			before, after := s.marks()
			for _, at := range []float64{before[channel], after[channel]} {
				from := start + at + delay[channel] + later
				for i := int(from / step); i < len(x) && float64(i)*step < from+markLength; i++ {
					x[i] += gain * s.Level.Ratio() * markLevel.Ratio() * mark(float64(i)*step-from)
				}
			}
		}
		for channel := range delay {
			play(channel, 0, 1)
			// 150 reflections whose energy adds up to that of the direct sound.
			const n, fall = 150, 0.8
			for range n {
				at := 2e-3 + 0.4*rng.Float64()
				play(channel, at, rng.NormFloat64()*math.Sqrt(0.4*6*math.Ln10/fall/n)*math.Pow(10, -3*at/fall))
			}
		}
		x = noisy(x, s, 20)
		out := matched(x, rate)
		m, ok := s.find(out, rate)
		if !ok {
			t.Errorf("seed %d: not found", seed)
			continue
		}
		got := s.drift(out, rate, m)
		if math.Abs(got-drift) > 2e-6 {
			t.Errorf("seed %d: drift %.2f parts in a million, want %g", seed, got*1e6, drift*1e6)
		}
		for i := range delay {
			before, _ := s.marks()
			want := (start + before[i] + delay[i]) / step
			if off := (m.before[i].first - want) / rate; math.Abs(off) > 0.05e-3 {
				t.Errorf("seed %d: the mark of %v is off by %.3f ms", seed, s.Sources()[i], off*1e3)
			}
		}
		t.Logf("seed %d: drift %.2f ppm", seed, got*1e6)
	}
}

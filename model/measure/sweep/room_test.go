package sweep

import (
	"math"
	"math/cmplx"
	"math/rand/v2"

	"evenbass/model"
)

// testRoom is a made-up room whose response is known exactly: what arrives directly, one
// reflection, and a few modes that ring, all of the sampled kind.
type testRoom struct {
	step  float64         // of the recorder's clock, s
	delay map[int]float64 // of the sound from channel 0 and 1, s
	modes [][2]float64    // frequency in Hz and decay time in s
}

const (
	echoLater = 4.1e-3 // s
	echoGain  = -0.55
)

func newTestRoom(rate, drift float64) *testRoom {
	return &testRoom{
		step: 1 / (rate * (1 + drift)), delay: map[int]float64{0: 6.1e-3, 1: 6.9e-3},
		modes: [][2]float64{{24.3, 0.9}, {39.8, 0.7}, {52.4, 0.65}, {71.1, 0.5}, {104.2, 0.45}, {171, 0.3}, {258, 0.3}},
	}
}

// strength is that of mode k from a channel.
func strength(k, channel int) float64 { return []float64{0.9, -0.7, 1.1}[(k+2*channel)%3] }

// response returns H from a channel, without the delay of the direct sound.
func (r *testRoom) response(channel int, f float64) complex128 {
	w := 2 * math.Pi * f
	h := 1 + cmplx.Rect(echoGain, -w*echoLater)
	z := cmplx.Rect(1, -w*r.step)
	for k, m := range r.modes {
		pole := cmplx.Rect(math.Exp(-math.Log(1000)/m[1]*r.step), 2*math.Pi*m[0]*r.step)
		gain := complex(2*math.Pi*m[0]*r.step*strength(k, channel)/4, 0)
		h += gain * (1/(1-pole*z) - 1/(1-cmplx.Conj(pole)*z)) / 2i
	}
	return h
}

// play returns what a microphone records of a sweep that begins start seconds after the recorder,
// until so many seconds in all.
func (r *testRoom) play(s Sweep, start, length float64) []float64 {
	n := int(length / r.step)
	y := make([]float64, n)
	for channel := range 2 {
		x := make([]float64, n)
		s.add(x, r.step, start+r.delay[channel], channel, 1)
		s.add(x, r.step, start+r.delay[channel]+echoLater, channel, echoGain)
		driven := make([]float64, n) // the modes are driven by the direct sound alone
		s.add(driven, r.step, start+r.delay[channel], channel, 1)
		for k, m := range r.modes {
			pole := cmplx.Rect(math.Exp(-math.Log(1000)/m[1]*r.step), 2*math.Pi*m[0]*r.step)
			gain := 2 * math.Pi * m[0] * r.step * strength(k, channel) / 4
			var state complex128
			for i, v := range driven {
				state = state*pole + complex(v, 0)
				y[i] += gain * imag(state)
			}
		}
		for i, v := range x {
			y[i] += v
		}
	}
	return y
}

// add adds the signal of a channel to x, whose samples are step apart, delayed by start.
func (s Sweep) add(x []float64, step, start float64, channel int, gain float64) {
	plays := func(p model.Source) bool {
		return p == model.BothSpeakers || p == model.SubSpeaker || p == model.LeftSpeaker && channel == 0 || p == model.RightSpeaker && channel == 1
	}
	put := func(at, length, gain float64, wave func(float64) float64) {
		for i := max(0, int((start+at)/step)); i < len(x) && float64(i)*step < start+at+length; i++ {
			x[i] += gain * wave(float64(i)*step-start-at)
		}
	}
	level := s.Level.Ratio()
	for i, p := range s.Parts {
		if plays(p) {
			put(s.begins(i), s.Length, gain*level, s.wave)
		}
	}
	before, after := s.marks()
	for i, p := range s.Sources() {
		if plays(p) {
			put(before[i], markLength, gain*level*markLevel.Ratio(), mark)
			put(after[i], markLength, gain*level*markLevel.Ratio(), mark)
		}
	}
}

// noisy returns x with white noise added, so many dB below the sweep's own power.
func noisy(x []float64, s Sweep, below float64) []float64 {
	rng := rand.New(rand.NewPCG(1, 2))
	sigma := s.Level.Ratio() / math.Sqrt2 * math.Pow(10, -below/20)
	y := make([]float64, len(x))
	for i, v := range x {
		y[i] = v + sigma*rng.NormFloat64()
	}
	return y
}

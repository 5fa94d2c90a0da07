package spectraldecay

import (
	"math"
	"math/cmplx"
	"math/rand/v2"
	"testing"

	"evenbass/model"
	"evenbass/model/response"
)

const testRate = 4000.0

// tones returns two seconds of damped tones {Hz, δ in 1/s} from sample 200 on.
func tones(list ...[2]float64) []float64 {
	x := make([]float64, 8200)
	for i := 200; i < len(x); i++ {
		t := float64(i-200) / testRate
		for _, p := range list {
			x[i] += math.Exp(-p[1]*t) * math.Sin(2*math.Pi*p[0]*t)
		}
	}
	return x
}

func mapOf(t *testing.T, x []float64) *Map {
	t.Helper()
	s, err := Impulse(x, testRate, 200)
	if err != nil {
		t.Fatal(err)
	}
	return New(s, Settings{})
}

// At time 0 the level is the steady response Σ x e^{-jωn}, here of a resonance so wide that
// averaging over 1/24 octave changes it by 0.15 dB at most.
func TestBeginsWithTheSteadyResponse(t *testing.T) {
	t.Parallel()
	x := tones([2]float64{60, 25})
	m := mapOf(t, x)
	for i, f := range m.Grid {
		var h complex128
		for n, v := range x {
			h += complex(v, 0) * cmplx.Rect(1, -2*math.Pi*f*float64(n)/testRate)
		}
		if d := float64(m.Levels[0][i] - model.LevelOf(cmplx.Abs(h))); f > 22 && f < 280 && math.Abs(d) > 0.15 {
			t.Fatalf("%.1f Hz: %.3f dB off", f, d)
		}
	}
}

// A mode falls by 8.686 δ dB a second, once the tone has stopped: at its own frequency the
// tone's fade takes some time of its own, beyond that the slope is the mode's.
func TestFallsAsTheModes(t *testing.T) {
	t.Parallel()
	m := mapOf(t, tones([2]float64{40, 8}, [2]float64{120, 15}))
	for _, c := range []struct{ f, rate float64 }{{40, 8}, {120, 15}} {
		i := m.Grid.Nearest(c.f)
		a, b := m.Levels[20][i], m.Levels[40][i] // 0.2 s and 0.4 s
		if slope := float64(a-b) / 0.2; math.Abs(slope/(8.686*c.rate)-1) > 0.02 {
			t.Errorf("%g Hz: %.1f dB/s, want %.1f", c.f, slope, 8.686*c.rate)
		}
	}
	i := m.Grid.Nearest(40)
	if got, want := m.Below(m.Levels[0][i] - 20)[i], 20/(8.686*8); got < want || got > want+Fade(40) {
		t.Errorf("40 Hz falls by 20 dB in %.3f s, want %.3f to %.3f", got, want, want+Fade(40))
	}
	if never, always := m.Below(-300), m.Below(100); !math.IsInf(never[0], 1) || always[0] != 0 {
		t.Errorf("below -300 dB after %g s, below 100 dB after %g s", never[0], always[0])
	}
}

// Without a room the tone itself is seen: 20 dB in four of its periods, by the definition of g:
// (1 + cos(πuf/5))/2 = 0.1 at uf = 3.976.
func TestToneAlone(t *testing.T) {
	t.Parallel()
	x := make([]float64, 8200)
	x[200] = 1
	m := mapOf(t, x)
	fall := m.Below(-20) // the steady level is 0 dB
	for _, f := range []float64{40, 80, 160} {
		i := m.Grid.Nearest(f)
		if want := 3.976 / m.Grid[i]; math.Abs(fall[i]-want) > 0.006 || math.Abs(Fade(m.Grid[i])-want) > 1e-4 {
			t.Errorf("%g Hz: %.4f s, limit %.4f s, want %.4f", f, fall[i], Fade(m.Grid[i]), want)
		}
	}
}

// A transfer and an impulse response of one room give one map: the transfer of a tone is
// H = 1/2 (e^{jφ}/(δ + j(ω-ω0)) + its mirror), here with φ = -π/2.
func TestTransferAndImpulseAgree(t *testing.T) {
	t.Parallel()
	room := [][2]float64{{45, 9}, {70, 12}, {170, 14}}
	grid := response.DecayGrid()
	air := model.AirAt(0)
	p := make([]complex128, len(grid))
	for i, f := range grid {
		for _, r := range room {
			s, w0 := complex(r[1], 2*math.Pi*f), 2*math.Pi*r[0]
			p[i] += complex(w0, 0) / (s*s + complex(w0*w0, 0)) * complex(testRate, 0) // Laplace transform of e^{-δt} sin ω0t
		}
		p[i] *= complex(0, f*air.Density/2)
	}
	s, err := Transfer(grid, p, air)
	if err != nil {
		t.Fatal(err)
	}
	a, b := New(s, Settings{}), mapOf(t, tones(room...))
	if a.Noise != nil {
		t.Error("a prediction has noise")
	}
	var worst float64
	for i, f := range a.Grid {
		j := b.Grid.Nearest(f)
		for k := range a.Times {
			if f < 30 || f > 250 || a.Levels[k][i] < a.Levels[0][i]-30 || math.Abs(b.Grid[j]/f-1) > 0.004 {
				continue
			}
			worst = max(worst, math.Abs(float64(a.Levels[k][i]-b.Levels[k][j])))
		}
	}
	if worst > 1 {
		t.Errorf("up to %.2f dB apart", worst)
	}
	t.Logf("up to %.2f dB apart", worst)
}

// White noise of standard deviation σ over N samples has a spectrum of σ√N: the level at which
// it stands, within what a tenth of the record tells of it.
func TestNoise(t *testing.T) {
	t.Parallel()
	x := tones([2]float64{60, 25})
	random := rand.New(rand.NewPCG(1, 2))
	for i := range x {
		x[i] += 0.003 * random.NormFloat64()
	}
	m := mapOf(t, x)
	var mean float64
	for _, l := range m.Noise {
		mean += l.Power() / float64(len(m.Noise))
	}
	if slow := mapOf(t, tones([2]float64{60, 1})); slow.Noise != nil {
		t.Error("a sound that still rings at the end counts as noise")
	}
	if want := 20 * math.Log10(0.003*math.Sqrt(float64(len(x)))); math.Abs(float64(model.PowerLevel(mean))-want) > 2 {
		t.Errorf("noise at %.1f dB, want %.1f", float64(model.PowerLevel(mean)), want)
	}
}

func TestRefuses(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		x    []float64
		rate float64
		zero int
	}{
		"rate": {make([]float64, 900), 100, 0}, "empty": {nil, 1000, 0}, "late": {make([]float64, 900), 1000, 800},
		"not a number": {append(make([]float64, 900), math.Inf(1)), 1000, 0}, "before": {make([]float64, 900), 1000, -1},
	} {
		if _, err := Impulse(c.x, c.rate, c.zero); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if _, err := Transfer(model.DefaultGrid(), make([]complex128, 224), model.AirAt(0)); err == nil {
		t.Error("an uneven grid is accepted")
	}
	if _, err := Transfer(response.DecayGrid(), nil, model.AirAt(0)); err == nil {
		t.Error("no transfer is accepted")
	}
}

package analysis

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/model/response"
)

var goal = model.Goal{From: 30, To: 300, Smoothing: 12}

// room is a made-up measurement: direct sound and three modes {Hz, δ in 1/s, amplitude}, in
// noise 60 dB below the direct sound; 2 kHz, 2.5 s, the sound begins at sample 300.
func room() *measure.Measurement {
	const rate, begin = 2000.0, 300
	x := make([]float64, 5000)
	random := rand.New(rand.NewPCG(4, 2))
	x[begin] = 1
	for i := range x {
		if t := float64(i-begin) / rate; t > 0 {
			for _, m := range [][3]float64{{41, 6, 0.02}, {66, 9, 0.03}, {110, 8, 0.02}} {
				x[i] += m[2] * math.Exp(-m[1]*t) * math.Cos(2*math.Pi*m[0]*t)
			}
		}
		x[i] += 1e-3 * 0.05 * random.NormFloat64()
	}
	return &measure.Measurement{
		Name: "made up", Seat: "chair", Speaker: model.LeftSpeaker, Temperature: 293.15,
		Impulse: &measure.Impulse{Samples: x, Rate: rate, Zero: begin},
	}
}

// What was put into a response is found in it: modes to 0.05 Hz and 5 %, the steady level,
// decay times, the peaks of the modes, noise.
func TestNew(t *testing.T) {
	t.Parallel()
	a, err := New(room(), goal)
	if err != nil {
		t.Fatal(err)
	}
	if len(a.Modes) != 3 {
		t.Fatalf("modes %+v", a.Modes)
	}
	for i, want := range [][2]float64{{41, 6}, {66, 9}, {110, 8}} {
		if m := a.Modes[i]; math.Abs(m.Frequency-want[0]) > 0.05 || math.Abs(m.Rate/want[1]-1) > 0.05 {
			t.Errorf("mode at %.2f Hz with δ %.2f, want %v", m.Frequency, m.Rate, want)
		}
	}
	// Between the modes the direct sound is left: 0 dB, and the tails of the modes.
	if l := a.Raw[a.Grid.Nearest(250)]; math.Abs(float64(l)) > 1 {
		t.Errorf("%.2f dB at 250 Hz", float64(l))
	}
	// |H| at 66 Hz is about |1 + 0.03·2000/(2·9)|.
	if l := float64(a.Raw[a.Grid.Nearest(66)]); math.Abs(l-20*math.Log10(1+0.03*2000/18)) > 0.5 {
		t.Errorf("%.2f dB at 66 Hz", l)
	}
	for _, d := range a.Decays {
		if d.Nominal == 63 && math.Abs(d.T20/(3*math.Ln10/9)-1) > 0.1 {
			t.Errorf("T20 %.3f s at 63 Hz", d.T20)
		}
	}
	if !slices.ContainsFunc(a.Features, func(f response.Feature) bool { return f.Peak && math.Abs(f.Frequency-66) < 1 }) {
		t.Errorf("no peak at 66 Hz: %+v", a.Features)
	}
	// Noise of 5e-5 over the window: 20 lg(5e-5 √n).
	n := float64(a.Window.To - a.Window.From)
	if got, want := float64(a.Noise[a.Grid.Nearest(100)]), 20*math.Log10(5e-5*math.Sqrt(n)); math.Abs(got-want) > 4 {
		t.Errorf("noise at %.1f dB, want %.1f", got, want)
	}
	if a.Card.Fall.Mean == 0 || a.Card.Spread != a.Figures.Spread || a.Cut || a.Fading == nil || a.Card.Dip.Channel != 0 {
		t.Errorf("card %+v, cut %v", a.Card, a.Cut)
	}
}

// A table has levels alone, and its band cuts the goal.
func TestNewOfATable(t *testing.T) {
	t.Parallel()
	m := &measure.Measurement{Name: "table", Table: &measure.Table{}}
	for f := 40.0; f < 202; f *= 1.02 {
		m.Table.Frequencies = append(m.Table.Frequencies, f)
		m.Table.Levels = append(m.Table.Levels, model.Level(3*math.Sin(6*math.Log(f))))
	}
	a, err := New(m, goal)
	if err != nil {
		t.Fatal(err)
	}
	if !a.Cut || a.Goal.From < 40 || a.Goal.To > 202 || a.Decays != nil || a.Modes != nil || a.Fading != nil || a.Noise != nil || a.Card.Fall.Mean != 0 {
		t.Errorf("goal %v, cut %v, fall %+v", a.Goal, a.Cut, a.Card.Fall)
	}
	if s := float64(a.Card.Spread); math.Abs(s-3) > 0.1 {
		t.Errorf("spread %.2f dB of a sine of 3 dB", s)
	}
}

// A response that is sampled too slowly for decays still has levels.
func TestLevelsAlone(t *testing.T) {
	t.Parallel()
	slow := room()
	slow.Impulse.Rate = 500
	a, err := New(slow, goal)
	if err != nil || a.Decays != nil || a.Modes != nil || a.Card.Spread <= 0 || !a.Cut {
		t.Errorf("%+v, %v", a, err)
	}
}

func TestNewRefuses(t *testing.T) {
	t.Parallel()
	high := &measure.Measurement{Table: &measure.Table{Frequencies: []float64{1000, 2000}, Levels: []model.Level{0, 1}}}
	narrow := &measure.Measurement{Table: &measure.Table{Frequencies: []float64{50, 60, 70, 80}, Levels: make([]model.Level, 4)}}
	short := &measure.Measurement{Impulse: &measure.Impulse{Samples: []float64{1, 2, 3}, Rate: 2000}}
	for name, m := range map[string]*measure.Measurement{"empty": {}, "high": high, "narrow": narrow, "short": short} {
		if _, err := New(m, goal); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

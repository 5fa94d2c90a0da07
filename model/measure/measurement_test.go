package measure_test

import (
	"math"
	"math/cmplx"
	"testing"

	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/model/response"
)

// TestImpulseResponse holds the response of a delayed and a sampled decaying impulse to
// their exact transforms.
func TestImpulseResponse(t *testing.T) {
	const rate, delay, decay = 2000.0, 700, 0.99
	x := make([]float64, 3000)
	for n := delay; n < len(x); n++ {
		x[n] = math.Pow(decay, float64(n-delay))
	}
	m := &measure.Measurement{Impulse: &measure.Impulse{Samples: x, Rate: rate, Zero: 100.5, Timed: true}}
	grid := model.NewGrid(20, 300, 12, 0)
	h, err := m.Response(grid)
	if err != nil {
		t.Fatal(err)
	}
	for i, f := range grid {
		w := 2 * math.Pi * f / rate
		// Geometric series, its tail of 0.99^2300 left out.
		want := cmplx.Rect(1, -w*(delay-100.5)) / (1 - decay*cmplx.Rect(1, -w))
		if d := cmplx.Abs(h[i]-want) / cmplx.Abs(want); d > 1e-8 {
			t.Errorf("at %.1f Hz: %v, want %v", f, h[i], want)
		}
	}
	if !m.HasTime() || !m.HasPhase() {
		t.Error("a timed impulse response has phase and time")
	}
}

// TestTransferScale holds Transfer to the reader's scale: the free field at 1 m reads 0 dB.
func TestTransferScale(t *testing.T) {
	grid, air := model.DefaultGrid(), model.AirAt(0)
	const rate = 48000.0
	x := make([]float64, 4800)
	x[140] = 1 / 1.5 // 1.5 m away
	m := &measure.Measurement{Impulse: &measure.Impulse{Samples: x, Rate: rate, Zero: 140 - 1.5/air.Speed*rate}}
	p, err := m.Transfer(grid, air)
	if err != nil {
		t.Fatal(err)
	}
	free := model.FreeField(nil, grid, air, 1.5)
	for i := range grid {
		if cmplx.Abs(p[i]-free[i]) > 1e-9*cmplx.Abs(free[i]) {
			t.Fatalf("at %.1f Hz: %v, free field %v", grid[i], p[i], free[i])
		}
	}
	// The reader interpolates between frequencies, which costs a pure delay 0.03 dB.
	goal := model.Goal{From: 30, To: 300, Smoothing: 12}
	if mean := response.NewReader(grid, air, goal).Read(p).Mean; math.Abs(float64(mean-model.LevelOf(1/1.5))) > 0.05 {
		t.Errorf("the reader's mean is %.3f dB, want %.3f", mean, model.LevelOf(1/1.5))
	}
}

func TestTableBetweenRows(t *testing.T) {
	m := &measure.Measurement{Table: &measure.Table{
		Frequencies: []float64{50, 100, 200}, Levels: []model.Level{-6, 0, 6}, Phases: []float64{3, -3, -2},
	}}
	h, err := m.Response(model.Grid{50, 50 * math.Sqrt2, 75, 200})
	if err != nil {
		t.Fatal(err)
	}
	if l := model.LevelOf(cmplx.Abs(h[1])); math.Abs(float64(l)+3) > 1e-9 {
		t.Errorf("half an octave up: %.4f dB, want -3", l)
	}
	// From 3 to -3 rad the shorter way round passes π.
	if p := cmplx.Phase(h[2]); math.Abs(math.Remainder(p-math.Pi, 2*math.Pi)) > 1e-9 {
		t.Errorf("phase between rows %.4f, want π", p)
	}
	if _, err := m.Response(model.Grid{49, 60}); err == nil {
		t.Error("a grid below the table is no error")
	}
	if got := m.Within(model.Grid{20, 50, 150, 300}); len(got) != 2 {
		t.Errorf("within the table: %v", got)
	}
	if w := m.Table.WidestStep(model.Range{Min: 30, Max: 300}); w != 1 {
		t.Errorf("widest step %g octaves, want 1", w)
	}
}

func TestCombine(t *testing.T) {
	table := func(l model.Level) *measure.Measurement {
		return &measure.Measurement{Table: &measure.Table{Frequencies: []float64{20, 400}, Levels: []model.Level{l, l}}}
	}
	grid := model.Grid{50, 100}
	p, err := measure.Combine([]*measure.Measurement{table(0), table(-20), table(0)}, grid)
	if err != nil {
		t.Fatal(err)
	}
	want := model.PowerLevel((1 + 0.01 + 1) / 3)
	if math.Abs(float64(p.Average[1]-want)) > 1e-9 || math.Abs(float64(p.Least[1]+20)) > 1e-9 || math.Abs(float64(p.Most[0])) > 1e-9 {
		t.Errorf("average %.3f (want %.3f), least %.3f, most %.3f", p.Average[1], want, p.Least[1], p.Most[0])
	}
	if apart := p.Apart(); math.Abs(float64(apart)-10) > 1e-9 {
		t.Errorf("apart by ±%.2f dB, want ±10", apart)
	}
	one, other := table(0), table(-3)
	one.Seat, other.Seat, one.Speaker, other.Speaker, one.StateKnown = "chair", "chair", model.LeftSpeaker, model.LeftSpeaker, true
	other.Unsure, one.Notes, other.Notes = measure.SmoothingUnknown, []string{"invented"}, []string{"invented", "b"}
	if p, err = measure.Combine([]*measure.Measurement{one, other}, grid); err != nil {
		t.Fatal(err)
	}
	m := p.Measurement([]*measure.Measurement{one, other})
	if m.Seat != "chair" || m.Speaker != model.LeftSpeaker || m.StateKnown || m.Unsure != measure.SmoothingUnknown || m.Check() != nil || len(m.Notes) != 3 {
		t.Errorf("the average says %+v", m)
	}
	if _, err := measure.Combine(nil, grid); err == nil {
		t.Error("nothing to combine is no error")
	}
}

func TestCheckRefuses(t *testing.T) {
	nan := math.NaN()
	good := []float64{0, 1, 0.5}
	for name, m := range map[string]*measure.Measurement{
		"nothing":        {},
		"both":           {Impulse: &measure.Impulse{Samples: good, Rate: 2}, Table: &measure.Table{}},
		"one sample":     {Impulse: &measure.Impulse{Samples: good[:1], Rate: 2000}},
		"NaN":            {Impulse: &measure.Impulse{Samples: []float64{1, nan, 0}, Rate: 2000}},
		"silence":        {Impulse: &measure.Impulse{Samples: make([]float64, 9), Rate: 2000}},
		"no rate":        {Impulse: &measure.Impulse{Samples: good}},
		"falling":        {Table: &measure.Table{Frequencies: []float64{50, 40}, Levels: []model.Level{0, 0}}},
		"short levels":   {Table: &measure.Table{Frequencies: []float64{50, 60}, Levels: []model.Level{0}}},
		"infinite level": {Table: &measure.Table{Frequencies: []float64{50, 60}, Levels: []model.Level{0, model.Level(math.Inf(-1))}}},
		"broken noise":   {Impulse: &measure.Impulse{Samples: good, Rate: 2000}, Noise: &measure.Table{}},
	} {
		if m.Check() == nil {
			t.Errorf("%s: passes", name)
		}
		if _, err := m.Response(model.Grid{50}); err == nil {
			t.Errorf("%s: has a response", name)
		}
	}
}

func TestDoubts(t *testing.T) {
	m := &measure.Measurement{
		Seat: "chair", Speaker: model.LeftSpeaker, StateKnown: true, Temperature: 293, Noise: &measure.Table{},
		Impulse: &measure.Impulse{Timed: true}, Unsure: measure.SmoothingUnknown | measure.GainUnknown,
	}
	if d := m.Doubts(); d != measure.GainUnknown {
		t.Errorf("an impulse response in doubt of %q, want gain alone", d)
	}
	bare := (&measure.Measurement{Table: &measure.Table{}, Unsure: measure.SmoothingUnknown}).Doubts()
	if want := "smoothing, phase, time reference, noise, place, speaker, state, temperature"; bare.String() != want {
		t.Errorf("a bare table in doubt of %q, want %q", bare, want)
	}
	for _, d := range bare.List() {
		if back, ok := measure.ParseDoubt(d.String()); !ok || back != d {
			t.Errorf("%v reads back as %v", d, back)
		}
	}
}

// TestSynthesis turns a resonance after a delay into samples and back.
func TestSynthesis(t *testing.T) {
	s := measure.Synthesis{Rate: 2000, Step: 0.5, Lead: 0.5, Band: model.Range{Min: 19, Max: 316}, Below: 0.6, Above: 0.08}
	response := func(f float64) complex128 {
		return cmplx.Rect(1, -2*math.Pi*f*0.0061) / complex(1-f*f/(60*60), 2*f/60*0.05)
	}
	var h []complex128
	for _, f := range s.Grid() {
		h = append(h, response(f))
	}
	m := &measure.Measurement{Impulse: s.Impulse(h), Band: s.Band}
	grid := model.NewGrid(19, 316, 48, 0)
	got, err := m.Response(grid)
	if err != nil {
		t.Fatal(err)
	}
	for i, f := range grid {
		if d := cmplx.Abs(got[i]-response(f)) / cmplx.Abs(response(f)); d > 0.005 {
			t.Errorf("at %.1f Hz off by %.4f", f, d)
		}
	}
}

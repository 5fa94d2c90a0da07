package diagnosis

import (
	"math"
	"testing"

	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/model/measure/analysis"
)

// measured is a made-up response: direct sound, an echo after 2.5 ms, which digs a dip at 200 Hz,
// and a mode that rings at 60 Hz. A notch takes out nine tenths of the level at 111 Hz.
func measured(t *testing.T, s model.Source, notch bool) *analysis.Analysis {
	t.Helper()
	const rate, begin = 2000.0, 300
	x := make([]float64, 4000)
	x[begin] = 1
	x[begin+5] = 0.8
	for i := begin; i < len(x); i++ {
		u := float64(i-begin) / rate
		x[i] += 0.03 * math.Exp(-7*u) * math.Cos(2*math.Pi*60*u)
	}
	if notch {
		plain := append([]float64{}, x...)
		for i := begin; i < len(x); i++ {
			for k := 0; k <= i-begin && k < 800; k++ {
				u := float64(k) / rate
				x[i] -= plain[i-k] * 0.9 * 2 * 50 / rate * math.Exp(-50*u) * math.Cos(2*math.Pi*111*u)
			}
		}
	}
	a, err := analysis.New(&measure.Measurement{Speaker: s, Impulse: &measure.Impulse{Samples: x, Rate: rate, Zero: begin}}, model.Goal{From: 30, To: 300, Smoothing: 12})
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// near returns the fault of a speaker at a frequency.
func near(faults []Fault, s model.Source, f float64) Fault {
	for _, fault := range faults {
		if fault.Speaker == s && math.Abs(fault.Feature.Frequency/f-1) < 0.06 {
			return fault
		}
	}
	return Fault{Cause: -1}
}

// Both speakers share the dip at 200 Hz; the left one alone has one at 111 Hz. The mode rings in
// both.
func TestFind(t *testing.T) {
	t.Parallel()
	left := measured(t, model.LeftSpeaker, true)
	right := measured(t, model.RightSpeaker, false)
	list := []*analysis.Analysis{left, right}
	faults := Find(list)
	peak := near(faults, model.LeftSpeaker, 60)
	if peak.Cause != Mode || peak.Mode == nil || math.Abs(peak.Mode.Frequency-60) > 0.1 {
		t.Errorf("the peak at 60 Hz: %+v", peak)
	}
	if f := near(faults, model.LeftSpeaker, 111); f.Cause != SpeakerPlace || f.Feature.Peak {
		t.Errorf("the left speaker's own dip: %+v", f)
	}
	if f := near(faults, model.RightSpeaker, 200); f.Cause != SeatPlace || f.Feature.Peak {
		t.Errorf("the dip of both: %+v", f)
	}
	if n := Best(list, faults); n.Step == NothingOpen || n.Step == MeasureOther {
		t.Errorf("next: %+v", n)
	}
	elsewhere := *right
	sofa := *right.Measurement
	sofa.Seat, elsewhere.Measurement = "sofa", &sofa
	apart := []*analysis.Analysis{left, &elsewhere}
	if f := near(Find(apart), model.LeftSpeaker, 111); f.Cause != Open {
		t.Errorf("with the other speaker at another seat: %+v", f)
	}
	if n := Best(apart, Find(apart)); n.Step != MeasureOther {
		t.Errorf("next with the speakers at two seats: %+v", n)
	}
	alone := []*analysis.Analysis{left}
	if f := near(Find(alone), model.LeftSpeaker, 111); f.Cause != Open {
		t.Errorf("with one speaker alone: %+v", f)
	}
	if n := Best(alone, Find(alone)); n.Step != MeasureOther {
		t.Errorf("next with one speaker alone: %+v", n)
	}
}

// A table has no modes and asks for an impulse response.
func TestTable(t *testing.T) {
	t.Parallel()
	m := &measure.Measurement{Speaker: model.BothSpeakers, Table: &measure.Table{}}
	for f := 20.0; f < 330; f *= 1.02 {
		m.Table.Frequencies = append(m.Table.Frequencies, f)
		m.Table.Levels = append(m.Table.Levels, model.Level(-12/(1+math.Pow(f/30, 8))-12*math.Exp(-math.Pow(20*math.Log(f/90), 2))))
	}
	a, err := analysis.New(m, model.Goal{From: 25, To: 300, Smoothing: 12})
	if err != nil {
		t.Fatal(err)
	}
	faults := Find([]*analysis.Analysis{a})
	if f := near(faults, model.BothSpeakers, 25); f.Cause != RollOff {
		t.Errorf("the lower end: %+v", f)
	}
	if f := near(faults, model.BothSpeakers, 90); f.Cause != Open {
		t.Errorf("the dip: %+v", f)
	}
	if n := Best([]*analysis.Analysis{a}, faults); n.Step != MeasureImpulse {
		t.Errorf("next: %+v", n)
	}
}

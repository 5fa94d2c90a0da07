package measure

import (
	"math"
	"testing"

	"evenbass/model"
)

// A microphone that reads 6 dB too much and lags by 2 ms is taken out of samples and of a table, with
// its phase where it is known.
func TestCorrectedPhase(t *testing.T) {
	t.Parallel()
	const lag, rate = 0.002, 1000.0
	microphone := &Table{}
	for f := 5.0; f <= 500; f += 5 {
		microphone.Frequencies = append(microphone.Frequencies, f)
		microphone.Levels = append(microphone.Levels, model.LevelOf(2))
		microphone.Phases = append(microphone.Phases, math.Remainder(-2*math.Pi*f*lag, 2*math.Pi))
	}
	m := &Measurement{Impulse: &Impulse{Samples: make([]float64, 400), Rate: rate}}
	m.Impulse.Samples[102] = 2
	for _, c := range []struct {
		phases []float64
		at     int
	}{{microphone.Phases, 100}, {nil, 102}} {
		got := m.Corrected(&Table{Frequencies: microphone.Frequencies, Levels: microphone.Levels, Phases: c.phases}).Impulse.Samples
		if math.Abs(got[c.at]-1) > 0.05 {
			t.Errorf("with phases %v: %.3f at the pulse", c.phases != nil, got[c.at])
		}
	}
	table := &Measurement{Table: &Table{Frequencies: []float64{50, 100}, Levels: []model.Level{70, 76}, Phases: []float64{1, -3}}}
	got := table.Corrected(microphone).Table
	if want := math.Remainder(-3+2*math.Pi*100*lag, 2*math.Pi); math.Abs(got.Phases[1]-want) > 1e-9 || math.Abs(float64(got.Levels[1])-76+6.0206) > 1e-3 || table.Table.Phases[1] != -3 {
		t.Errorf("%+v", got)
	}
}

package measure_test

import (
	"math"
	"math/cmplx"
	"testing"

	"evenbass/model"
	"evenbass/model/measure"
)

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

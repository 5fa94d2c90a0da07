package material

import (
	"fmt"
	"math"
	"testing"

	"evenbass/model"
	"evenbass/model/material/materialtest"

	"pgregory.net/rapid"
)

func TestSheetTransmission(t *testing.T) {
	t.Parallel()
	// The mass law at an angle is τ(θ) = 1/(1 + A² cos² θ); the diffuse field's mean
	// is its integral over 2 cos θ sin θ dθ, here by a midpoint sum.
	for _, m := range []float64{5, 10, 25} {
		for _, f := range []float64{25, 63, 200} {
			a := math.Pi * f * m / 413
			const n = 20000
			var sum float64
			for i := range n {
				u := (float64(i) + 0.5) / n
				sum += 2 * u / (1 + sq(a*u)) / n
			}
			materialtest.Near(t, fmt.Sprintf("%v kg/m² at %v Hz", m, f), sheetTransmission(m, f), sum, 1e-7)
		}
	}
	materialtest.Near(t, "nothing there", sheetTransmission(1e-6, 20), 1, 1e-6)
}

func TestReproducibility(t *testing.T) {
	t.Parallel()
	// ISO 12999-2:2020, table 4, U (k = 2) over α.
	for f, want := range map[float64]float64{63: 1, 80: 0.26 / 0.35, 125: 0.17 / 0.38, 250: 0.25, 500: 0.08 / 0.49} {
		materialtest.Near(t, fmt.Sprintf("at %v Hz", f), reproducibility(f), want, 1e-12)
	}
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.Float64Range(20, 499).Draw(t, "f")
		if reproducibility(f*1.001) > reproducibility(f) {
			t.Fatalf("uncertainty grows with frequency at %v Hz", f)
		}
	})
}

func TestRulesJoinThePrintedBands(t *testing.T) {
	t.Parallel()
	for _, r := range []Rule{Massive, Sprung, Pane, Porous} {
		k := r.below(125, 60)
		materialtest.Near(t, r.String(), k.Low, 1, 1e-12)
		materialtest.Near(t, r.String(), k.Typical, 1, 1e-12)
		materialtest.Near(t, r.String(), k.High, 1, 1e-12)
	}
}

func TestRulesFallWithFrequency(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.Float64Range(20, 120).Draw(t, "f")
		f0 := rapid.Float64Range(30, 200).Draw(t, "f0")
		for _, r := range []Rule{Massive, Sprung, Pane, Porous} {
			k, up := r.below(f, f0), r.below(f*1.02, f0)
			if k.Low > k.Typical || k.Typical > k.High || k.High > 1 {
				t.Fatalf("%v at %v Hz, f0 %v: %+v", r, f, f0, k)
			}
			if k.Low > up.Low || k.Typical > up.Typical || k.High > up.High {
				t.Fatalf("%v at %v Hz, f0 %v: it rises downwards", r, f, f0)
			}
		}
	})
}

func TestSprungFallsAsASpringDoes(t *testing.T) {
	t.Parallel()
	// A resonator of mass, spring and constant resistance far below f0 takes up in
	// proportion to f²; with a loss factor (r ~ 1/f), to f. Checked on the impedance
	// itself: 19 kg/m² at f0 = 60 Hz, read at 6 and 3 Hz.
	zeta := func(f, r float64) complex128 {
		w, w0 := 2*math.Pi*f, 2*math.Pi*60.0
		return complex(r, 19*(w-w0*w0/w)/413)
	}
	constant := AbsorptionAt(1/zeta(6, 0.5), 1) / AbsorptionAt(1/zeta(3, 0.5), 1)
	materialtest.Near(t, "constant resistance, one octave", constant, 4, 0.15)
	structural := AbsorptionAt(1/zeta(6, 0.5), 1) / AbsorptionAt(1/zeta(3, 1.0), 1)
	materialtest.Near(t, "loss factor, one octave", structural, 2, 0.1)
	low, high := Sprung.below(15, 60), Sprung.below(30, 60)
	materialtest.Near(t, "low falls by", high.Low/low.Low, 4, 1e-12)
	materialtest.Near(t, "typical falls by", high.Typical/low.Typical, 2, 1e-12)
}

func TestThinPorousLayerFallsAsTheSquare(t *testing.T) {
	t.Parallel()
	// 10 mm of carpet, 20 kPa·s/m²: ζ = σd/(3ρc) - j cot(kd) nearly, the layer's
	// resistance and the stiffness of its air.
	alpha := func(f float64) float64 {
		kd := 2 * math.Pi * f / 343 * 0.010
		return RandomAbsorption(complex(20000*0.010/3/413, -1/math.Tan(kd)))
	}
	materialtest.Near(t, "one octave", alpha(100)/alpha(50), 4, 0.1)
	a, b := Porous.below(50, 0), Porous.below(100, 0)
	materialtest.Near(t, "the rule", b.Typical/a.Typical, 4, 1e-12)
}

func TestNothingIsBelowBareConcrete(t *testing.T) {
	t.Parallel()
	for _, c := range everyConstruction(t) {
		if c.Name == "rigid" {
			continue
		}
		for i, s := range c.Absorption {
			if s.Typical < 0.01 || s.Low < 0.003 {
				t.Errorf("%s at %g Hz: %+v", c.Name, Bands()[i], s)
			}
		}
	}
}

// 60/sqrt(md) and 50/sqrt(md): Cox and D'Antonio, eqs. 7.9 and 7.10, and Vigran,
// eq. 5.42, who prints 60 for ρ = 1.21 and c = 340.
func TestMassAirResonance(t *testing.T) {
	t.Parallel()
	usual := model.Air{Density: 1.21, Speed: 343}
	vigran := model.Air{Density: 1.21, Speed: 340}
	materialtest.Near(t, "empty", MassAirResonance(1, 1, false, vigran), 59.52, 0.01)
	materialtest.Near(t, "filled", MassAirResonance(1, 1, true, vigran), 50.6615, 1e-4)
	for _, test := range []struct{ mass, depth, empty, filled float64 }{
		{.2, .1, 424.26, 353.55}, {.5, .1, 268.33, 223.61}, {1, .1, 189.74, 158.11}, {5, .1, 84.85, 70.71}, {.2, .2, 300, 250},
	} {
		materialtest.Near(t, "60-rule", MassAirResonance(test.mass, test.depth, false, usual)/test.empty, 1, 0.002)
		materialtest.Near(t, "50-rule", MassAirResonance(test.mass, test.depth, true, usual)/test.filled, 1, 0.014)
	}
}

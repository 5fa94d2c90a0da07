package absorber

import (
	"fmt"
	"math"
	"testing"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/materialtest"
)

func variantsOf(t testing.TB, layers ...model.Layer) *Variants {
	t.Helper()
	v, _, err := NewVariants(layers, nil)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// The range holds every combination of resistivity and skeleton.
func TestVariantsHoldTheCorners(t *testing.T) {
	t.Parallel()
	v := variantsOf(t, foil(.1), wool(6000, .2))
	for f := 25.0; f < 1000; f *= 1.25 {
		r := v.Normal(f)
		if !(r.Low <= r.Typical && r.Typical <= r.High) || r.Low < 0 || r.High > 1 {
			t.Errorf("%.0f Hz: %+v", f, r)
		}
		for _, frame := range []model.Frame{model.FrameFixed, model.FrameLimp} {
			for _, sigma := range []float64{4200, 6000, 7800} {
				a := stackOf(t, Options{Frame: frame}, foil(.1), wool(sigma, .2)).NormalAbsorption(f)
				if a < r.Low-1e-12 || a > r.High+1e-12 {
					t.Errorf("%.0f Hz: %v at σ = %v, frame %v is outside %+v", f, a, sigma, frame, r)
				}
			}
		}
	}
}

// 200 mm of 5 kPa·s/m² and 11 kg/m³, fixed and limp as a table of the trade has
// them (computed there with a one-parameter law, hence ±0.04 and ±0.07): the edges of the
// range reach that far.
func TestVariantsAgainstTrade(t *testing.T) {
	t.Parallel()
	l := wool(5000, .2)
	l.Density = 11
	fixed, limp := stackOf(t, Options{Frame: model.FrameFixed}, l), stackOf(t, Options{Frame: model.FrameLimp}, l)
	for _, test := range []struct{ f, fixed, limp float64 }{
		{40, .13, .07}, {50, .19, .12}, {63, .27, .21}, {80, .37, .34}, {100, .49, .49},
	} {
		materialtest.Near(t, fmt.Sprintf("fixed %v Hz", test.f), fixed.NormalAbsorption(test.f), test.fixed, 0.04)
		materialtest.Near(t, fmt.Sprintf("limp %v Hz", test.f), limp.NormalAbsorption(test.f), test.limp, 0.07)
	}
	if r := variantsOf(t, l).Normal(50); r.Low > .13 || r.High < .18 {
		t.Errorf("range at 50 Hz %+v", r)
	}
}

// A skeleton said to be held leaves only the resistivity to vary.
func TestVariantsKeepWhatIsSaid(t *testing.T) {
	t.Parallel()
	l := wool(5000, .3)
	open := variantsOf(t, l).Normal(100)
	l.Frame = model.FrameFixed
	held := variantsOf(t, l).Normal(100)
	if held.High >= open.High {
		t.Errorf("held %+v, open %+v", held, open)
	}
	v, _, err := NewVariants([]model.Layer{wool(5000, .3)}, &Options{Frame: model.FrameFixed})
	if err != nil {
		t.Fatal(err)
	}
	if got := v.Normal(100); got != held {
		t.Errorf("held by the options %+v, by the layer %+v", got, held)
	}
}

func TestVariantsAt(t *testing.T) {
	t.Parallel()
	v := variantsOf(t, foil(.1), wool(6000, .2))
	low, typical, high := bassAbsorption(v.At(material.Low)), bassAbsorption(v.At(material.Typical)), bassAbsorption(v.At(material.High))
	if !(low < typical && typical < high) {
		t.Errorf("low %v, typical %v, high %v", low, typical, high)
	}
}

func TestFigure(t *testing.T) {
	t.Parallel()
	grid := model.NewGrid(20, 5000, 12, 0)
	v := variantsOf(t, foil(.2), wool(5000, .1))
	fig := v.Curves(grid)
	s := v.At(material.Typical)
	for i, f := range grid {
		materialtest.Near(t, "normal", fig.Normal[i].Typical, material.AbsorptionAt(1/fig.Zeta[i], 1), 1e-12)
		materialtest.Near(t, "random", fig.Random[i].Typical, s.RandomAbsorption(f), 1e-12)
	}
	if len(fig.Resonances) != 1 || math.Abs(fig.Resonances[0].Frequency-345) > 20 {
		t.Errorf("resonances %v, want one near 340 Hz", fig.Resonances)
	}
	if fig.Reflects < 500 || fig.Reflects > 1000 {
		t.Errorf("reflects above %v Hz", fig.Reflects)
	}
	if want := "predicted by transfer matrices, Johnson-Champoux-Allard, bulk reaction, infinite area; range for flow resistivity ±30 %, and for wool held or loose where not stated"; fig.Recipe != want {
		t.Errorf("recipe %q", fig.Recipe)
	}
}

func TestVariantsRefuse(t *testing.T) {
	t.Parallel()
	if _, _, err := NewVariants([]model.Layer{wool(10, .1)}, nil); err == nil {
		t.Error("10 Pa·s/m²: no error")
	}
}

func ExampleVariants() {
	v, _, err := NewVariants([]model.Layer{
		{Kind: model.FilmLayer, Thickness: 100e-6},
		{Kind: model.PorousLayer, Material: "glass wool slab", Thickness: 0.2},
	}, nil)
	if err != nil {
		panic(err)
	}
	for _, f := range []float64{50, 63, 80, 100, 125} {
		r := v.Random(f)
		fmt.Printf("%.0f Hz: %.2f (%.2f-%.2f)\n", f, r.Typical, r.Low, r.High)
	}
	// Output:
	// 50 Hz: 0.35 (0.21-0.38)
	// 63 Hz: 0.45 (0.37-0.49)
	// 80 Hz: 0.56 (0.52-0.60)
	// 100 Hz: 0.67 (0.62-0.77)
	// 125 Hz: 0.76 (0.72-0.88)
}

func ExampleNewStack() {
	s, warnings, err := NewStack([]model.Layer{
		{Kind: model.PorousLayer, Resistivity: 6000, Thickness: 0.2},
		{Kind: model.FilmLayer, Thickness: 100e-6},
	}, nil)
	if err != nil {
		panic(err)
	}
	fmt.Printf("%T %[1]v\n", warnings[0])
	fmt.Printf("%.2f at 100 Hz\n", s.NormalAbsorption(100))
	// Output:
	// model.LayerIdle {layer 2 (film 100 µm)}
	// 0.54 at 100 Hz
}

// One hundred and fifty frequencies from 20 Hz to 5 kHz, as a chart has them.
func benchmarkStack(b *testing.B, absorption func(s *Stack, f float64) float64) {
	s := stackOf(b, Options{}, wool(10000, .05), foil(.1), wool(6000, .2))
	grid := model.NewGrid(20, 5000, 19, 0)[:150]
	b.ReportAllocs()
	for b.Loop() {
		for _, f := range grid {
			absorption(s, f)
		}
	}
}

func BenchmarkNormalAbsorption(b *testing.B) { benchmarkStack(b, (*Stack).NormalAbsorption) }

func BenchmarkRandomAbsorptionBulk(b *testing.B) { benchmarkStack(b, (*Stack).RandomAbsorption) }

func BenchmarkFigure(b *testing.B) {
	v, _, err := NewVariants([]model.Layer{foil(.1), wool(6000, .2)}, nil)
	if err != nil {
		b.Fatal(err)
	}
	grid := model.NewGrid(20, 5000, 19, 0)
	for b.Loop() {
		v.Curves(grid)
	}
}

// The hot path allocates nothing.
func TestNoAllocations(t *testing.T) {
	plate := model.Layer{Kind: model.PerforatedLayer, Thickness: .012, HoleDiameter: .006, OpenArea: .05}
	s := stackOf(t, Options{}, plate, limpWool(10000, .05, 20), foil(.1), air(.1))
	for name, f := range map[string]func(){
		"normal":     func() { s.NormalAbsorption(100) },
		"random":     func() { s.RandomAbsorption(100) },
		"admittance": func() { s.Admittance(100) },
	} {
		if n := testing.AllocsPerRun(20, f); n != 0 {
			t.Errorf("%s: %v allocations", name, n)
		}
	}
}

// A build-up with a ratio of resistivity is that of layers which have it, film and all.
func TestResisting(t *testing.T) {
	t.Parallel()
	film := model.Layer{Kind: model.FilmLayer, SurfaceMass: 0.1}
	wool := model.Layer{Kind: model.PorousLayer, Thickness: 0.1, Resistivity: 8000}
	got, err := variantsOf(t, film, wool).WithResistivity(1.4)
	if err != nil {
		t.Fatal(err)
	}
	wool.Resistivity *= 1.4
	want, _, err := NewStack([]model.Layer{film, wool}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range []float64{40, 80, 160} {
		if a, b := got.NormalAbsorption(f), want.NormalAbsorption(f); a != b {
			t.Errorf("%v Hz: %v, want %v", f, a, b)
		}
	}
}

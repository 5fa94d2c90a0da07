package absorber

import (
	"fmt"
	"math"
	"math/cmplx"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"evenbass/model"
	"evenbass/model/material/materialtest"
)

// anyLayer draws a layer that NewStack accepts.
func anyLayer() *rapid.Generator[model.Layer] {
	return rapid.Custom(func(t *rapid.T) model.Layer {
		l := model.Layer{
			Kind:      rapid.SampledFrom([]model.LayerKind{model.PorousLayer, model.FilmLayer, model.GapLayer, model.PerforatedLayer, model.SlottedLayer, model.PanelLayer}).Draw(t, "kind"),
			Thickness: rapid.Float64Range(0.001, 0.4).Draw(t, "thickness"),
		}
		switch l.Kind {
		case model.PorousLayer:
			l.Resistivity = rapid.Float64Range(leastResistivity, 200000).Draw(t, "σ")
			l.Frame = rapid.SampledFrom([]model.Frame{model.FrameUnknown, model.FrameFixed, model.FrameLimp}).Draw(t, "frame")
			l.Density = rapid.SampledFrom([]float64{0, 8, 30, 120}).Draw(t, "density")
		case model.FilmLayer, model.PanelLayer:
			l.SurfaceMass = rapid.Float64Range(0.01, 15).Draw(t, "mass")
		case model.PerforatedLayer, model.SlottedLayer:
			l.HoleDiameter = rapid.Float64Range(0.0002, 0.02).Draw(t, "hole")
			l.OpenArea = rapid.Float64Range(0.005, 0.5).Draw(t, "open")
		}
		return l
	})
}

// No build-up gives energy away: absorption is in 0..1 at every angle and Re Z is
// not negative, with local and with bulk reaction, on a rigid wall or a soft one.
func TestStacksArePassive(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		layers := rapid.SliceOfN(anyLayer(), 1, 6).Draw(rt, "layers")
		f := rapid.Float64Range(15, 5000).Draw(rt, "f")
		angle := rapid.Float64Range(0, 1.55).Draw(rt, "angle")
		for _, o := range []Options{{}, {Reaction: Local}, {Backing: model.Plain(0.2 + 0.3i)}} {
			s := stackOf(t, o, layers...)
			if z := s.SurfaceImpedance(f, angle); !(real(z) >= -1e-7*cmplx.Abs(z)) {
				rt.Errorf("Z = %v", z)
			}
			for _, alpha := range []float64{s.NormalAbsorption(f), absorptionAt(s, f, angle), s.RandomAbsorption(f)} {
				if !(alpha >= -1e-9 && alpha <= 1+1e-9) {
					rt.Errorf("absorption %v", alpha)
				}
			}
		}
	})
}

// One layer cut in two is one layer.
func TestLayerCutInTwo(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		l := wool(rapid.Float64Range(1000, 50000).Draw(rt, "σ"), rapid.Float64Range(0.02, 0.6).Draw(rt, "d"))
		l.Frame = rapid.SampledFrom([]model.Frame{model.FrameFixed, model.FrameLimp}).Draw(rt, "frame")
		f := rapid.Float64Range(20, 5000).Draw(rt, "f")
		angle := rapid.Float64Range(0, 1.5).Draw(rt, "angle")
		a, b := l, l
		a.Thickness *= rapid.Float64Range(0.05, 0.95).Draw(rt, "cut")
		b.Thickness -= a.Thickness
		one, two := stackOf(t, Options{}, foil(.1), l), stackOf(t, Options{}, foil(.1), a, b)
		if x, y := one.Reflection(f, angle), two.Reflection(f, angle); cmplx.Abs(x-y) > 1e-8 {
			rt.Errorf("R = %v whole, %v cut", x, y)
		}
	})
}

// The lightest film changes next to nothing, wherever it lies. With the impedance z before a wall re that of air, the
// film's iωm/Z0 changes 1-|R|² by less than 4ωm/Z0, since |dR/dz| is at most 2.
func TestLightestFilm(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		layers := []model.Layer{wool(8000, .05), air(.05), wool(5000, .1)}
		at := rapid.IntRange(0, len(layers)).Draw(rt, "at")
		f := rapid.Float64Range(20, 2000).Draw(rt, "f")
		bare, covered := stackOf(t, Options{}, layers...), stackOf(t, Options{}, slices.Insert(slices.Clone(layers), at, foil(lightestFilm))...)
		if x, y := bare.NormalAbsorption(f), covered.NormalAbsorption(f); math.Abs(x-y) > 4*2*math.Pi*f*lightestFilm/413 {
			rt.Errorf("%v bare, %v covered", x, y)
		}
	})
}

// A layer of air is the wall moved back: |R| stays and the phase turns by 2kd.
func TestAirTurnsThePhase(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		f, d := rapid.Float64Range(20, 2000).Draw(rt, "f"), rapid.Float64Range(0.01, 1).Draw(rt, "d")
		angle := rapid.Float64Range(0, 1.4).Draw(rt, "angle")
		s := stackOf(t, Options{Air: checkAir}, air(d))
		want := cmplx.Exp(complex(0, -4*math.Pi*f/343*d*math.Cos(angle)))
		if got := s.Reflection(f, angle); cmplx.Abs(got-want) > 1e-9 {
			rt.Errorf("R = %v, want %v", got, want)
		}
	})
}

// A stack on a wall that is itself a stack is one stack.
func TestBackingIsAStack(t *testing.T) {
	t.Parallel()
	inner := stackOf(t, Options{Reaction: Local}, wool(5000, .1), air(.05))
	outer := stackOf(t, Options{Reaction: Local, Backing: inner}, foil(.1), wool(9000, .05))
	whole := stackOf(t, Options{Reaction: Local}, foil(.1), wool(9000, .05), wool(5000, .1), air(.05))
	for f := 20.0; f < 2000; f *= 1.3 {
		nearComplex(t, "β", outer.Admittance(f), whole.Admittance(f), 1e-12)
		materialtest.Near(t, "random", outer.RandomAbsorption(f), whole.RandomAbsorption(f), 1e-9)
	}
}

// Deep enough, a layer no longer knows its wall, and nothing overflows.
func TestEndlessWool(t *testing.T) {
	t.Parallel()
	s := stackOf(t, Options{}, wool(200000, 9.9), wool(200000, 9.9), wool(200000, 9.9))
	z := s.layers[0].(*porous).fluid(5000).Impedance
	nearComplex(t, "Z", s.SurfaceImpedance(5000, 0)/z, 1, 1e-12)
}

// The quadrature over the angle: twice and eight times the directions change
// little, and with local reaction it agrees with the closed form.
func TestRandomQuadratureConverges(t *testing.T) {
	t.Parallel()
	var worst float64
	for _, e := range materialtest.BuildUps() {
		s := stackOf(t, Options{}, e.Layers...)
		fine := *s
		fine.angles = directions(8 * randomAngles)
		for f := 20.0; f <= 1000; f *= 1.2 {
			worst = max(worst, math.Abs(s.RandomAbsorption(f)-fine.RandomAbsorption(f)))
		}
	}
	t.Logf("worst change in absorption with eight times the directions: %.1e", worst)
	if worst > 1e-5 {
		t.Errorf("worst change %v", worst)
	}
}

func TestRandomQuadratureAgainstClosedForm(t *testing.T) {
	t.Parallel()
	local := stackOf(t, Options{Reaction: Local}, foil(.1), wool(6000, .2))
	for f := 20.0; f < 2000; f *= 1.3 {
		var sum float64
		for _, a := range directions(randomAngles) {
			sum += a.weight * absorptionAt(local, f, math.Asin(a.sin))
		}
		materialtest.Near(t, fmt.Sprintf("%.0f Hz", f), sum, local.RandomAbsorption(f), 1e-6)
	}
}

// Common practice, no source, borne out by computed figures: a film-faced bag
// throws back mids and highs, and a porous layer in front restores them.
func TestFrontLayerRestores(t *testing.T) {
	t.Parallel()
	bag := mikiStack(t, foil(.2), wool(5000, .1))
	faced := mikiStack(t, wool(10000, .05), foil(.2), wool(5000, .1))
	for _, test := range []struct{ f, faced, bag float64 }{
		{63, .202755, .070381}, {125, .538886, .232270}, {250, .929087, .755252},
		{500, .709083, .689096}, {1000, .772644, .319461}, {2000, .993763, .096969},
	} {
		materialtest.Near(t, fmt.Sprintf("bag, %v Hz", test.f), bag.NormalAbsorption(test.f), test.bag, 1e-6)
		materialtest.Near(t, fmt.Sprintf("with wool in front, %v Hz", test.f), faced.NormalAbsorption(test.f), test.faced, 1e-6)
	}
	f, ok := bag.ReflectsAbove()
	if !ok || f < 500 || f > 1000 {
		t.Errorf("the bag reflects above %.0f Hz (%v), want between 500 and 1000", f, ok)
	}
	if f, ok := faced.ReflectsAbove(); ok {
		t.Errorf("with wool in front it reflects above %.0f Hz", f)
	}
}

// Common practice, no source, borne out by computed figures: a second bag behind
// the first lowers the range; nearly all of that is depth.
func TestSecondBagLowersTheRange(t *testing.T) {
	t.Parallel()
	bag := []model.Layer{foil(.2), wool(5000, .1)}
	one, two, deep := mikiStack(t, bag...), mikiStack(t, append(bag[:2:2], bag...)...), mikiStack(t, foil(.2), wool(5000, .2))
	for _, test := range []struct {
		s          *Stack
		half, peak float64
	}{{one, 191.95, 339.65}, {two, 87.45, 197.95}, {deep, 90.25, 220.33}} {
		half, ok := test.s.HalfFrom()
		peak, _ := peakOf(test.s)
		if !ok {
			t.Error("half is never taken up")
		}
		materialtest.Near(t, "half from", half, test.half, 0.06)
		materialtest.Near(t, "peak", peak, test.peak, 0.06)
	}
	for i, f := range []float64{63, 80, 100, 125} {
		materialtest.Near(t, "one", one.NormalAbsorption(f), []float64{.07038, .10618, .15652, .23227}[i], 1e-5)
		materialtest.Near(t, "two", two.NormalAbsorption(f), []float64{.29866, .43776, .60406, .78619}[i], 1e-5)
	}
}

// Common practice, no source: a membrane works against the wall, where the
// pressure is, and hardly at a pressure node; open wool the other way round. The
// node is a quarter wavelength before the wall.
func TestMembraneWantsPressure(t *testing.T) {
	t.Parallel()
	bag := []model.Layer{foil(3), wool(8000, .1), foil(3)}
	on := mikiStack(t, bag...)
	f, _ := peakOf(on)
	quarter := checkAir.Speed / (4 * f)
	off := mikiStack(t, append(bag[:3:3], air(quarter))...)
	if a, b := on.NormalAbsorption(f), off.NormalAbsorption(f); a < 0.9 || b > a/3 {
		t.Errorf("bag at %.0f Hz: %.2f on the wall, %.2f at the node", f, a, b)
	}
	open := wool(5000, .1)
	if a, b := mikiStack(t, open).NormalAbsorption(f), mikiStack(t, open, air(quarter-.1)).NormalAbsorption(f); b < 2*a {
		t.Errorf("wool at %.0f Hz: %.2f on the wall, %.2f towards the node", f, a, b)
	}
}

// Whole tables of the trade, normal / random incidence, computed by others with a
// one-parameter law that is stretched below 100 Hz: the same law gives the same to
// the two decimals printed.
func TestTradeTable(t *testing.T) {
	t.Parallel()
	at := []float64{50, 63, 80, 100, 125, 200}
	for _, row := range []struct {
		d, sigma float64
		normal   []float64
	}{
		{.05, 10000, []float64{.01, .02, .03, .05, .07, .14}},
		{.1, 5000, []float64{.05, .07, .10, .14, .19, .37}},
		{.1, 20000, []float64{.09, .13, .19, .26, .35, .56}},
		{.2, 5000, []float64{.19, .27, .37, .49, .62, .87}},
		{.3, 10000, []float64{.44, .52, .60, .66, .70, .77}},
		{.6, 3000, []float64{.74, .81, .86, .88, .89, .90}},
	} {
		s := mikiStack(t, wool(row.sigma, row.d))
		for i, f := range at {
			materialtest.Near(t, fmt.Sprintf("%v m, %v Pa·s/m², %v Hz", row.d, row.sigma, f), s.NormalAbsorption(f), row.normal[i], 0.006)
		}
	}
}

func TestBadBuildUps(t *testing.T) {
	t.Parallel()
	negative := wool(5000, -.1)
	for _, test := range []struct {
		layers []model.Layer
		want   string
	}{
		{nil, "a build-up needs at least one layer"},
		{make([]model.Layer, 30), "at most 24 layers, have 30"},
		{[]model.Layer{wool(5000, 0)}, "layer 1 (wool): thickness is missing or zero"},
		{[]model.Layer{foil(.1), negative}, "layer 2 (wool -100 mm): thickness must be above zero, have -0.1 m"},
		{[]model.Layer{wool(5000, math.NaN())}, "thickness must be above zero"},
		{[]model.Layer{wool(5000, 200)}, "thickness 200 m is no layer of a room: is the unit right?"},
		{[]model.Layer{wool(0, .1)}, "flow resistivity must be above zero, have 0 Pa·s/m²"},
		{[]model.Layer{wool(-5000, .1)}, "flow resistivity must be above zero"},
		{[]model.Layer{wool(10, .1)}, "10 Pa·s/m² is nearly none; 10 kPa·s/m² would be 10000 Pa·s/m²: is the unit right?"},
		{[]model.Layer{wool(6e6, .1)}, "flow resistivity 6e+06 Pa·s/m² is that of plaster"},
		{[]model.Layer{foil(0)}, "thickness is missing or zero"},
		{[]model.Layer{foil(-1)}, "thickness is missing or zero"},
		{[]model.Layer{foil(80)}, "to 50 kg/m²"},
		{[]model.Layer{foil(1e-6)}, "from 2 g/m² to 50 kg/m², have 1e-06 kg/m²"},
		{[]model.Layer{{Kind: model.PanelLayer, Thickness: .01}}, "a panel needs a surface mass, a density or a material"},
		{[]model.Layer{{Kind: model.PanelLayer, SurfaceMass: 9, Damping: -1}}, "must not be negative"},
		{[]model.Layer{{Kind: model.PerforatedLayer, Thickness: .01, OpenArea: .05}}, "hole diameter or slot width"},
		{[]model.Layer{{Kind: model.SlottedLayer, Thickness: .01, HoleDiameter: .005}}, "open area must be above 0"},
		{[]model.Layer{{Kind: model.PorousLayer, Thickness: .1, Resistivity: 5000, Porosity: 98}}, "porosity must be from 0 to 1"},
		{[]model.Layer{{Kind: model.PorousLayer, Thickness: .1, Resistivity: 5000, Tortuosity: 0.5}}, "tortuosity must be 1 or more"},
		{[]model.Layer{{Kind: model.PorousLayer, Thickness: .1, Resistivity: 5000, ViscousLength: 130}}, "viscous and thermal length must be 0 to 10 mm"},
		{[]model.Layer{{Kind: model.PorousLayer, Thickness: .1, Resistivity: 5000, Density: 2500}}, "density of a porous layer"},
		{[]model.Layer{{Kind: model.PorousLayer, Thickness: .1, Resistivity: 5000, Density: 0.1, Frame: model.FrameLimp}}, "from 0.5 to 1000 kg/m³"},
		{[]model.Layer{{Kind: model.PorousLayer, Thickness: .1, Material: "stone wool batt"}}, `no material is called "stone wool batt"`},
		{[]model.Layer{{Thickness: .1}}, "no layer is of kind 0"},
	} {
		_, _, err := NewStack(test.layers, nil)
		if err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%v: error %v, want %q in it", test.layers, err, test.want)
		}
	}
}

func TestDoubtfulBuildUps(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		layers []model.Layer
		want   string
	}{
		{[]model.Layer{wool(3000, 3)}, "model.WoolThick{Thickness:3}"},
		{[]model.Layer{wool(5000, .8), air(.6)}, "model.BuildUpDeep{Depth:1.4}"},
		{[]model.Layer{wool(5000, .1), foil(.2)}, `model.LayerIdle{Name:"layer 2 (film 0.2 kg/m²)"}`},
		{[]model.Layer{foil(.2), air(.1)}, "nothing in the build-up absorbs"},
		{[]model.Layer{{Kind: model.FilmLayer, Thickness: .005}, wool(5000, .1)}, "model.FilmThick{Thickness:0.005}"},
		{[]model.Layer{{Kind: model.PanelLayer, SurfaceMass: 8.8}, air(.075)}, "the panel is modelled as one mass"},
	} {
		_, warnings, err := NewStack(test.layers, nil)
		has := func(w model.Warning) bool { return strings.Contains(fmt.Sprintf("%#v", w), test.want) }
		if err != nil || !slices.ContainsFunc(warnings, has) {
			t.Errorf("%v: warnings %q, error %v, want %q", test.layers, warnings, err, test.want)
		}
	}
	if _, warnings, err := NewStack([]model.Layer{foil(.1), wool(6000, .2)}, nil); err != nil || len(warnings) > 0 {
		t.Errorf("an ordinary bag: warnings %q, error %v", warnings, err)
	}
}

// peakOf returns the frequency in Hz from 20 Hz to 1 kHz at which a stack absorbs
// most at normal incidence, and how much.
func peakOf(s *Stack) (f, alpha float64) {
	const steps = 340 // 1/60 octave
	ratio := math.Pow(1000.0/20, 1.0/steps)
	for g := 20.0; g <= 1000; g *= ratio {
		if a := s.NormalAbsorption(g); a > alpha {
			f, alpha = g, a
		}
	}
	for width := ratio; width > 1+1e-7; width = math.Sqrt(width) {
		for _, g := range [2]float64{f / width, f * width} {
			if a := s.NormalAbsorption(g); a > alpha {
				f, alpha = g, a
			}
		}
	}
	return f, alpha
}

// absorptionAt returns 1 - |R|² at frequency f in Hz for a plane wave at an angle
// from the normal in rad.
func absorptionAt(s *Stack, f, angle float64) float64 {
	sin, cos := math.Sincos(angle)
	return absorbed(s.front(f, sin), cos, s.options.Air.Impedance())
}

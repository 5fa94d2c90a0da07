package absorber

import (
	"math/cmplx"
	"testing"

	"evenbass/model"
	"evenbass/model/material/materialtest"
)

// The check values were computed with c = 343 m/s and ρ = 1.21 kg/m³.
var checkAir = model.Air{Speed: 343, Density: 1.21}

var checkGas = Gas{Viscosity: 1.84e-5, Prandtl: 0.71, HeatRatio: 1.4, Pressure: 101325}

// Layers in the tests' short hand.
var (
	wool, limpWool = materialtest.Wool, materialtest.LimpWool
	air, foil      = materialtest.Air, materialtest.Foil
)

func stackOf(t testing.TB, o Options, layers ...model.Layer) *Stack {
	t.Helper()
	s, _, err := NewStack(layers, &o)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// mikiStack is a stack as the check values have it.
func mikiStack(t testing.TB, layers ...model.Layer) *Stack {
	t.Helper()
	return stackOf(t, Options{Air: checkAir, Gas: checkGas, Law: MikiLaw}, layers...)
}

func nearComplex(t *testing.T, what string, got, want complex128, tolerance float64) {
	t.Helper()
	if !(cmplx.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.9g, want %.9g ± %.0e", what, got, want, tolerance)
	}
}

func zeta(s *Stack, f float64) complex128 {
	return s.SurfaceImpedance(f, 0) / complex(s.options.Air.Impedance(), 0)
}

// Miki's law on a rigid wall: normal incidence, random incidence locally
// reacting and bulk reacting. Computed from the published law (Miki 1990); the
// last four rows are also printed to two decimals in an open documentation of
// porous absorbers, .26 .62 .94 .95 and .37 .68 .90 .95.
func TestLayerOnRigidWall(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		sigma, d, f              float64
		zeta                     complex128
		normal, local, extending float64
	}{
		{10000, .1, 63, 0.99733015 - 6.49148018i, 0.08648251, 0.13400477, 0.151511},
		{10000, .1, 125, 0.93728465 - 3.24465500i, 0.26252895, 0.33677782, 0.371681},
		{10000, .1, 250, 0.93024721 - 1.50548138i, 0.62095875, 0.64475486, 0.680552},
		{10000, .1, 500, 1.06636365 - 0.53331334i, 0.93658116, 0.88112767, 0.896596},
		{5000, .2, 63, 0.93679813 - 3.21791709i, 0.26564195, 0.33991751, 0.374980},
		{20000, .05, 63, 1.06525034 - 12.92331418i, 0.02487779, 0.04356647, 0.049265},
		{10000, .3, 63, 2.16016902 - 2.57650154i, 0.51973903, 0.63679587, 0.641038},
		{10000, .3, 125, 2.03532905 - 1.52968533i, 0.70468309, 0.79518330, 0.799521},
		{10000, .3, 250, 1.77660619 - 1.09863292i, 0.79699388, 0.85461897, 0.865239},
	} {
		s := mikiStack(t, wool(test.sigma, test.d))
		nearComplex(t, "ζ", zeta(s, test.f), test.zeta, 1e-7)
		materialtest.Near(t, "normal", s.NormalAbsorption(test.f), test.normal, 1e-7)
		materialtest.Near(t, "random, bulk", s.RandomAbsorption(test.f), test.extending, 2e-5)
		local := stackOf(t, Options{Air: checkAir, Law: MikiLaw, Reaction: Local}, wool(test.sigma, test.d))
		materialtest.Near(t, "random, local", local.RandomAbsorption(test.f), test.local, 1e-7)
	}
}

// Miki, 100 mm of 10 kPa·s/m² on 100 mm of air, computed from the law.
func TestLayerOnAirGap(t *testing.T) {
	t.Parallel()
	s := mikiStack(t, wool(10000, .1), air(.1))
	for _, test := range []struct {
		f      float64
		zeta   complex128
		normal float64
	}{
		{63, 1.26874386 - 3.75594851i, 0.26357556},
		{125, 1.26882043 - 1.79739766i, 0.60577345},
		{250, 1.41104683 - 0.74123933i, 0.88709062},
	} {
		nearComplex(t, "ζ", zeta(s, test.f), test.zeta, 1e-7)
		materialtest.Near(t, "normal", s.NormalAbsorption(test.f), test.normal, 1e-7)
	}
}

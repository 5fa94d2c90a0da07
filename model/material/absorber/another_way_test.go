package absorber

import (
	"fmt"
	"math"
	"math/cmplx"
	"testing"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/materialtest"
	"evenbass/model/trust"
)

// marched returns the reflection factor of porous layers on a rigid wall by another way:
// the wave equation is marched from the wall to the room in steps of Runge and Kutta,
//
//	dp/dz = jωρ v,  dv/dz = j(ω/K - s²/(ωρ)) p
//
// with s the wavenumber along the wall, and the law of Johnson, Champoux and Allard is
// written out from Allard and Atalla (2009), sect. 5.5, with nothing of the package in it.
func marched(foams []JohnsonChampouxAllard, depths []float64, air model.Air, gas Gas, f, angle float64) complex128 {
	w := 2 * math.Pi * f
	s := w / air.Speed * math.Sin(angle)
	p, v := complex128(1), complex128(0)
	for i := len(foams) - 1; i >= 0; i-- {
		m := foams[i]
		g := cmplx.Sqrt(complex(1, 4*m.Tortuosity*m.Tortuosity*gas.Viscosity*air.Density*w/
			math.Pow(m.Resistivity*m.ViscousLength*m.Porosity, 2)))
		rho := complex(m.Tortuosity*air.Density/m.Porosity, 0) *
			(1 + complex(m.Resistivity*m.Porosity, 0)*g/complex(0, w*air.Density*m.Tortuosity))
		thermal := w * air.Density * gas.Prandtl * m.ThermalLength * m.ThermalLength
		heat := 1 + complex(8*gas.Viscosity, 0)/complex(0, thermal)*cmplx.Sqrt(complex(1, thermal/(16*gas.Viscosity)))
		modulus := complex(gas.HeatRatio*gas.Pressure/m.Porosity, 0) / (complex(gas.HeatRatio, 0) - complex(gas.HeatRatio-1, 0)/heat)
		dp, dv := complex(0, w)*rho, 1i*(complex(w, 0)/modulus-complex(s*s/w, 0)/rho)
		const steps = 400
		h := complex(depths[i]/steps, 0)
		for range steps {
			p1, v1 := dp*v, dv*p
			p2, v2 := dp*(v+h/2*v1), dv*(p+h/2*p1)
			p3, v3 := dp*(v+h/2*v2), dv*(p+h/2*p2)
			p4, v4 := dp*(v+h*v3), dv*(p+h*p3)
			p, v = p+h/6*(p1+2*p2+2*p3+p4), v+h/6*(v1+2*v2+2*v3+v4)
		}
	}
	p *= complex(math.Cos(angle), 0)
	v *= complex(air.Impedance(), 0)
	return (p - v) / (p + v)
}

// One and two porous layers at four angles, as the reference files have them, against the
// wave equation marched through them.
func TestReflectionAnotherWay(t *testing.T) {
	t.Parallel()
	const within = 1e-6
	gas := Gas{Viscosity: 1.84e-5, Prandtl: 0.71, HeatRatio: 1.4, Pressure: 101325}
	air := model.Air{Density: 1.213, Speed: math.Sqrt(1.4 * 101325 / 1.213)}
	foam, foam2 := referenceFoams["foam"], referenceFoams["foam2"]
	var worst float64
	for _, c := range []struct {
		foams  []JohnsonChampouxAllard
		depths []float64
	}{
		{[]JohnsonChampouxAllard{foam}, []float64{0.01}}, {[]JohnsonChampouxAllard{foam2}, []float64{0.1}},
		{[]JohnsonChampouxAllard{foam, foam2}, []float64{0.01, 0.1}}, {[]JohnsonChampouxAllard{foam2, foam}, []float64{0.1, 0.002}},
	} {
		var layers []model.Layer
		for i, m := range c.foams {
			layers = append(layers, johnsonLayer(m, c.depths[i]))
		}
		s := stackOf(t, Options{Air: air, Gas: gas}, layers...)
		for _, degrees := range []float64{5, 35, 45, 80} {
			for _, f := range []float64{20, 63, 250, 1000, 4000} {
				angle := degrees * math.Pi / 180
				got, want := s.Reflection(f, angle), marched(c.foams, c.depths, air, gas, f, angle)
				worst = max(worst, cmplx.Abs(got-want))
				if cmplx.Abs(got-want) > within {
					t.Errorf("%v m, %v°, %v Hz: R = %.7f, marched %.7f", c.depths, degrees, f, got, want)
				}
			}
		}
	}
	t.Logf("worst |ΔR| %.1e", worst)
	trust.Seen(t, "layered absorbers, foams at angles", "within %s in the reflection factor, which the test demands", trust.Figure(within, 1))

	// 100 mm of the second foam at 5 degrees: five values typed from the test suite of
	// pymls (MIT), which computes them by transfer matrices of its own.
	s := stackOf(t, Options{Air: air, Gas: gas}, johnsonLayer(foam2, 0.1))
	for f, want := range map[float64]float64{10: 0.003727, 453.33: 0.844458, 896.67: 0.924447, 1340: 0.925162, 4000: 0.988677} {
		materialtest.Near(t, fmt.Sprintf("absorption at %v Hz", f), absorptionAt(s, f, 5*math.Pi/180), want, 1e-4)
	}
}

// Absorption in a tube: surface impedances that Y. Atalla and R. Panneton measured on four
// materials, read off their figures by the authors of pyva (MIT) and typed from there.
// Reading is good to some 5 % of |Z|. The fibrous ones need the limp skeleton.
func TestTubeValues(t *testing.T) {
	t.Parallel()
	for _, m := range []struct {
		name                        string
		foam                        JohnsonChampouxAllard
		density, depth, celsius, at float64 // kg/m³ of a limp skeleton, m, °C, atm
		zeta                        [4]complex128
		tolerance                   float64
	}{
		{"foam 1", JohnsonChampouxAllard{4971, 0.97, 1.31, 123.19e-6, 289.54e-6}, 0, 0.04992, 21.5, 0.992,
			[4]complex128{0.5 - 2.1i, 0.42 - 0.73i, 0.54 - 0.05i, 0.8 + 0.5i}, 0.06},
		{"foam 2", JohnsonChampouxAllard{8197, 0.95, 1.42, 133.1e-6, 212.65e-6}, 0, 0.03435, 24.6, 0.997,
			[4]complex128{0.65 - 3.2i, 0.45 - 1.4i, 0.5 - 0.7i, 0.5 - 0.2i}, 0.06},
		{"fibrous 1", JohnsonChampouxAllard{21235, 0.94, 1, 48.62e-6, 114.39e-6}, 89.6, 0.02337, 22.6, 1.002,
			[4]complex128{0.85 - 4.3i, 0.7 - 2.1i, 0.7 - 1.25i, 0.7 - 0.8i}, 0.1},
		{"fibrous 2", JohnsonChampouxAllard{50470, 0.89, 1, 41.51e-6, 114.27e-6}, 150, 0.03738, 24.6, 0.977,
			[4]complex128{1.7 - 3.1i, 1.7 - 1.6i, 1.7 - 1.05i, 1.7 - 0.82i}, 0.1},
	} {
		l := johnsonLayer(m.foam, m.depth)
		if m.density > 0 {
			l.Frame, l.Density = model.FrameLimp, m.density
		}
		air := model.AirAt(273.15 + m.celsius)
		air.Density *= m.at
		s := stackOf(t, Options{Air: air, Gas: Gas{Pressure: 101325 * m.at, Viscosity: 1.84e-5}}, l)
		for i, f := range []float64{400, 800, 1200, 1600} {
			got, want := s.NormalAbsorption(f), material.AbsorptionAt(1/m.zeta[i], 1)
			t.Logf("%s, %v Hz: %.3f, measured %.3f", m.name, f, got, want)
			materialtest.Near(t, fmt.Sprintf("%s, %v Hz", m.name, f), got, want, m.tolerance)
		}
	}
}

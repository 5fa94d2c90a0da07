package lattice

import (
	"math"
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/wave/scene"
	"evenbass/model/wave/wavetest"
)

// A cell at a wall with material in a part of it, against its impedance by transfer
// matrices of fluids without mass: Z of air behind, of the material, of air before. At
// 1 Hz the series ends with the terms that are tested.
func TestPartExcess(t *testing.T) {
	t.Parallel()
	const h, f = 0.1, 1.0
	air := model.AirAt(0)
	s := scene.Scene{Size: r3.Vec{X: 1, Y: h, Z: h}, Air: air}
	m := New(&s, h)
	first := m.At(0, 0, 0)
	p := scene.Porous{PorousVolume: wavetest.Wool(air, 12e3)}
	p.Modulus = air.Density * air.Speed * air.Speed / 1.4
	jw := complex(0, 2*math.Pi*f)
	for _, c := range []struct{ from, to float64 }{{0, 1}, {0, 0.5}, {0.5, 1}, {0.3, 0.8}, {0.7, 0.8}} {
		soft := m.softness(p)
		behind := complex(air.Density*air.Speed*air.Speed, 0) / (jw * complex(c.from*h+1e-12, 0))
		gamma := cmplx.Sqrt(jw * complex(p.Resistance/p.Modulus, 0))
		own := complex(p.Resistance, 0) / gamma
		th := cmplx.Tanh(gamma * complex((c.to-c.from)*h, 0))
		z := own * (behind + own*th) / (own + behind*th)
		before := jw * complex((1-c.to)*h/(air.Density*air.Speed*air.Speed), 0)
		z = z / (1 + z*before) // pressure at the front of the cell over the velocity there
		whole := (1 + (c.to-c.from)*(soft-1)) * h / (air.Density * air.Speed * air.Speed)
		z -= 1 / (jw * complex(whole, 0))

		fill := newFilling(c.from, c.to, soft)
		mean, square := fill.moments()
		way := (c.to - c.from) * h
		tie := way * (mean - square)
		if r := p.Resistance * (way*mean - tie); math.Abs(r/real(z)-1) > 1e-3 {
			t.Errorf("%v: a resistance of %.4g Pa·s/m, want %.4g", c, r, real(z))
		}
		_, high := m.partExcess(p, 0, first, fill, 0, h)
		if want := -imag(z) / (2 * math.Pi * f); math.Abs(high/want-1) > 1e-3 {
			t.Errorf("%v: an excess mass of %.4g kg/m², want %.4g", c, high, want)
		}
	}
}

// The same seen from the other side is the same.
func TestPartExcessMirrored(t *testing.T) {
	t.Parallel()
	s := scene.Scene{Size: r3.Vec{X: 1, Y: 0.1, Z: 0.1}, Air: model.AirAt(0)}
	m := New(&s, 0.1)
	p := scene.Porous{PorousVolume: wavetest.Wool(s.Air, 9e3)}
	soft := m.softness(p)
	for _, at := range [2][2]int{{0, 9}, {4, 4}} {
		a, b := m.At(at[0], 0, 0), m.At(at[1], 0, 0)
		_, high := m.partExcess(p, 0, a, newFilling(0.2, 0.7, soft), 0.01, 0.1)
		low, _ := m.partExcess(p, 0, b, newFilling(0.3, 0.8, soft), 0.01, 0.1)
		if math.Abs(low/high-1) > 1e-9 || !(low > 0) {
			t.Errorf("cells %v: %.5g and %.5g kg/m²", at, low, high)
		}
	}
}

// No face is left with next to no mass, however dense the material, so the step in time
// stays of the usual size.
func TestDenseMaterialKeepsTheStep(t *testing.T) {
	t.Parallel()
	air := model.AirAt(0)
	for _, sigma := range []float64{6e3, 20e3, 60e3, 200e3} {
		for _, depth := range []float64{0.03, 0.08, 0.1, 0.26} {
			s := scene.Scene{Size: r3.Vec{X: 3, Y: 0.1, Z: 0.1}, Air: air}
			s.Porous = []scene.Porous{{Min: r3.Vec{X: s.Size.X - depth}, Max: s.Size, PorousVolume: wavetest.Wool(air, sigma)}}
			s.Films = []scene.Film{{Min: r3.Vec{X: s.Size.X - 0.16}, Max: r3.Vec{X: s.Size.X - 0.16, Y: 0.1, Z: 0.1}, SurfaceMass: 0.1}}
			m := New(&s, 0.1)
			if step := m.StableStep() * air.Speed / 0.1; !(step > 0.45) {
				t.Errorf("%g mm of %g Pa·s/m²: a step of %.3f cells", 1000*depth, sigma, step)
			}
		}
	}
}

package march

import (
	"math"
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"evenbass/model"
	"evenbass/model/wave/lattice"
)

// A plane wave in any direction runs through the stencil as [dispersion] says: the
// leading error in all directions is one and the same, and the next is small.
func TestDispersion(t *testing.T) {
	t.Parallel()
	air := model.AirAt(0)
	rapid.Check(t, func(t *rapid.T) {
		h := rapid.Float64Range(0.05, 0.15).Draw(t, "h")
		l := lattice.NewCells(r3.Vec{X: 10 * h, Y: 10 * h, Z: 10 * h}, h)
		ct := 0.6 * h
		s := newStencil(&l, ct*ct)
		polar := rapid.Float64Range(0, math.Pi).Draw(t, "polar")
		azimuth := rapid.Float64Range(0, 2*math.Pi).Draw(t, "azimuth")
		k := rapid.Float64Range(0.05, 0.8).Draw(t, "kh") / h
		kx, ky, kz := k*math.Sin(polar)*math.Cos(azimuth), k*math.Sin(polar)*math.Sin(azimuth), k*math.Cos(polar)
		cx, cy, cz := math.Cos(kx*h), math.Cos(ky*h), math.Cos(kz*h)
		// 2 cos ω'T of the leapfrog.
		turn := float64(s.self) + 2*float64(s.x)*cx + 2*float64(s.y)*cy + 2*float64(s.z)*cz +
			4*float64(s.xy)*cx*cy + 4*float64(s.xz)*cx*cz + 4*float64(s.yz)*cy*cz
		got := math.Acos(turn / 2)
		d := dispersion{air: air, square: l.MeanSquare(), step: ct / air.Speed}
		want := real(d.phase(k * air.Speed))
		kh := k * h
		if math.Abs(got/want-1) > 5e-4*math.Pow(kh, 4)+2e-5/kh {
			t.Errorf("kh %.2f: phase per step %.6f, want %.6f", kh, got, want)
		}
	})
}

// Cells that are not cubes: the error that is left is that of their mismatch.
func TestDispersionOblong(t *testing.T) {
	t.Parallel()
	air := model.AirAt(0)
	l := lattice.NewCells(r3.Vec{X: 1.05, Y: 1, Z: 0.98}, 0.1)
	d := dispersion{air: air, square: l.MeanSquare(), step: 1e-5}
	for a, h := range l.H {
		k := 2 * math.Pi * 300 / air.Speed
		got := 2 / h * math.Sin(k*h/2) // of a wave along the axis, as the grid has it
		if e := math.Abs(got/(real(d.grid(complex(k*air.Speed, 0)))/air.Speed) - 1); e > 0.0012 {
			t.Errorf("axis %d with cells of %.3f m: frequency off by %.2g", a, h, e)
		}
	}
}

// A pulse's spectrum against its closed form: the slope of exp(-(t/w)²) has
// |Q| = 2πf sqrt(π) w² exp(-(πfw)²).
func TestPulseSpectrum(t *testing.T) {
	t.Parallel()
	q := newPulse(315, 1000, 1e-4)
	for _, f := range []float64{20, 100, 315} {
		got := cmplx.Abs(q.spectrum(complex(2*math.Pi*f*q.step, 0))) * q.step
		want := 2 * math.Pi * f * math.Sqrt(math.Pi) * q.width * q.width * math.Exp(-math.Pow(math.Pi*f*q.width, 2))
		if math.Abs(got/want-1) > 1e-6 {
			t.Errorf("%g Hz: %v, want %v", f, got, want)
		}
	}
	var sum float64
	for n := range q.len {
		sum += q.at(n)
	}
	if math.Abs(sum) > 1e-10 {
		t.Errorf("the pulse leaves %v m³ of air behind", sum)
	}
	top := cmplx.Abs(q.spectrum(complex(2*math.Pi*315*q.step, 0)))
	if beyond := cmplx.Abs(q.spectrum(complex(2*math.Pi*(RecordRate(315)-315)*q.step, 0))); beyond > 1e-4*top {
		t.Errorf("what is folded back on the top of the band is %v of it", beyond/top)
	}
}

package absorber

import (
	"math"

	"evenbass/model/material"
)

// wave is the pressure in Pa and the velocity into the wall in m/s on a plane
// between two layers; only their ratio counts.
type wave struct{ pressure, velocity complex128 }

// sections fills the buffer with the layers at frequency f.
func (s *Stack) sections(buffer *[maxLayers]section, f float64) []section {
	for i, l := range s.layers {
		buffer[i] = l.at(f)
	}
	return buffer[:len(s.layers)]
}

// toFront carries a wave from the wall through all layers to the front by
// transfer matrices; along is the square of the wavenumber along the wall.
//
//	p' = p cos(kz d) + j Zn v sin(kz d)      Zn = ωρ/kz
//	v' = v cos(kz d) + j p/Zn sin(kz d)      kz² = k² - along
//
// Allard and Atalla (2009), sect. 2.6. Both lines are multiplied by
// e^{-j kz d}, which is never large, so that thick lossy layers do not overflow.
func toFront(sections []section, along float64, wall wave) wave {
	w := wall
	for i := len(sections) - 1; i >= 0; i-- {
		l := &sections[i]
		if l.thickness == 0 || l.wavenumber == 0 {
			w.pressure += l.series * w.velocity
			continue
		}
		kz := l.wavenumber
		if along > 0 {
			kz = down(l.wavenumber*l.wavenumber - complex(along, 0))
		}
		turn := decay(complex(2*l.thickness, 0) * kz)
		cos, sin := (1+turn)/2, (1-turn)/2 // e^{-jx} cos x, e^{-jx} j sin x
		w = wave{
			pressure: w.pressure*cos + over(l.inertia, kz)*w.velocity*sin,
			velocity: w.velocity*cos + over(kz, l.inertia)*w.pressure*sin,
		}
	}
	return w
}

// decay returns e^{-jx}.
func decay(x complex128) complex128 {
	size := math.Exp(imag(x))
	sin, cos := math.Sincos(real(x))
	return complex(size*cos, -size*sin)
}

// down returns the root of k² that dies away into the layer: Im kz <= 0.
func down(square complex128) complex128 {
	kz := root(square)
	if imag(kz) > 0 {
		return -kz
	}
	return kz
}

// wall returns the wave on the wall behind the stack.
func (s *Stack) wall(f float64) wave {
	beta := s.options.Backing.Admittance(f)
	return wave{pressure: 1, velocity: beta / complex(s.options.Air.Impedance(), 0)}
}

// front returns the wave at the stack's front for sound from the given direction.
func (s *Stack) front(f, sin float64) wave {
	var buffer [maxLayers]section
	return toFront(s.sections(&buffer, f), s.along(f, sin), s.wall(f))
}

// along returns the square of the wavenumber along the wall in 1/m².
func (s *Stack) along(f, sin float64) float64 {
	if s.options.Reaction == Local {
		return 0
	}
	k := 2 * math.Pi * f / s.options.Air.Speed * sin
	return k * k
}

// SurfaceImpedance returns the pressure over the velocity into the surface, in
// Pa·s/m, at frequency f in Hz for a plane wave at an angle from the normal in
// rad. For a local stack the angle makes no difference.
func (s *Stack) SurfaceImpedance(f, angle float64) complex128 {
	w := s.front(f, math.Sin(angle))
	return w.pressure / w.velocity
}

// Admittance implements [model.Boundary]: β = ρc/Z at normal incidence.
func (s *Stack) Admittance(f float64) complex128 {
	w := s.front(f, 0)
	return complex(s.options.Air.Impedance(), 0) * w.velocity / w.pressure
}

// Reflection returns the pressure reflection factor at frequency f in Hz for a
// plane wave at an angle from the normal in rad:
//
//	R = (Z cos θ - ρc)/(Z cos θ + ρc)
func (s *Stack) Reflection(f, angle float64) complex128 {
	sin, cos := math.Sincos(angle)
	w := s.front(f, sin)
	p, v := w.pressure*complex(cos, 0), w.velocity*complex(s.options.Air.Impedance(), 0)
	return (p - v) / (p + v)
}

// NormalAbsorption returns 1 - |R|² at normal incidence, frequency f in Hz.
func (s *Stack) NormalAbsorption(f float64) float64 {
	return absorbed(s.front(f, 0), 1, s.options.Air.Impedance())
}

// RandomAbsorption returns the absorption at frequency f in Hz in a diffuse
// field: for a local stack by the closed form of the package's RandomAbsorption,
// for any other by quadrature over the angle from 0 to 90°.
func (s *Stack) RandomAbsorption(f float64) float64 {
	impedance := s.options.Air.Impedance()
	if s.options.Reaction == Local {
		return material.RandomAbsorption(s.SurfaceImpedance(f, 0) / complex(impedance, 0))
	}
	var buffer [maxLayers]section
	sections, wall := s.sections(&buffer, f), s.wall(f)
	var sum float64
	for _, a := range s.angles {
		sum += a.weight * absorbed(toFront(sections, s.along(f, a.sin), wall), a.cos, impedance)
	}
	return sum
}

// power returns |z|².
func power(z complex128) float64 { return real(z)*real(z) + imag(z)*imag(z) }

// absorbed returns 4 Re(z)/|z+1|² with z = Z cos θ/(ρc): 1 - |R|² without the
// difference of two near equals.
func absorbed(w wave, cos, impedance float64) float64 {
	p, v := w.pressure*complex(cos, 0), w.velocity*complex(impedance, 0)
	sum := p + v
	return 4 * (real(p)*real(v) + imag(p)*imag(v)) / power(sum)
}

package mode

import (
	"fmt"
	"math"
	"math/cmplx"

	"evenbass/model"
)

// FreeDecay returns a mode with n half waves along x, y, z as it rings by itself:
// Damped and Rate are those of the coupled problem, in which all three axes' walls
// act on each other,
//
//	k² = qx²(k) + qy²(k) + qz²(k),  2πf + jδ = ck
//
// (Morse & Ingard 1968, §9.4), solved for the complex k. The walls' admittance is
// taken at the damped frequency. In lossy air ck is divided by 1 - jη.
//
// The mode is followed from rigid walls as the admittance grows to what it is. The
// error says so if that path breaks off, as it may where walls absorb so much that
// modes lose their identity. FreeDecay panics if n is 0-0-0, which does not ring,
// or negative.
func FreeDecay(box model.Box, n [3]int) (Mode, error) {
	if min(n[0], n[1], n[2]) < 0 || n == [3]int{} {
		panic(fmt.Sprintf("mode: free decay of mode %v", n))
	}
	m := Mode{N: n, Frequency: rigid(box.Size, box.Air.Speed, n)}
	r := ringing{box: box, k: complex(2*math.Pi*m.Frequency/box.Air.Speed, 0)}
	for d := range 3 {
		t := float64(n[d]) * math.Pi
		r.u[d] = complex(t*t, 0)
	}
	if err := r.follow(); err != nil {
		return Mode{}, fmt.Errorf("mode: free decay of %v: %w", m, err)
	}
	omega := r.omega()
	m.Damped, m.Rate = real(omega)/(2*math.Pi), imag(omega)
	return m, nil
}

// ringing is a state of free decay on its way from rigid walls to the real ones.
type ringing struct {
	box model.Box
	k   complex128    // 1/m
	u   [3]complex128 // (qL)² per axis
}

func (r *ringing) omega() complex128 {
	return complex(r.box.Air.Speed, 0) * r.k / complex(1, -r.box.Air.Loss)
}

// follow raises the admittances from nothing to their value, in steps small enough
// for no axis mode to come near its neighbour.
func (r *ringing) follow() error {
	const first, least, farthest = 1.0 / 8, 1e-4, 0.4
	for at, step := 0.0, first; at < 1; {
		next, to := *r, min(1, at+step)
		if next.settle(to) && next.distance(r) < farthest {
			*r, at, step = next, to, step*1.5
			continue
		}
		if step /= 2; step < least {
			return fmt.Errorf("lost at %.0f %% of the walls' admittance", 100*at)
		}
	}
	return nil
}

// distance returns how far the axis modes of two states are apart, as qL.
func (r *ringing) distance(o *ringing) float64 {
	var most float64
	for d := range r.u {
		// q = 0 turns into a small q of any phase: its square is the fair measure.
		a, b := cmplx.Sqrt(r.u[d]), cmplx.Sqrt(o.u[d])
		most = max(most, min(cmplx.Abs(a-b), cmplx.Abs(r.u[d]-o.u[d])))
	}
	return most
}

// settle solves for k with the admittances times a share, by Newton's method, and
// reports whether it came to rest.
func (r *ringing) settle(share float64) bool {
	for range 60 {
		rest, slope := -r.k*r.k, -2*r.k
		for d := range 3 {
			e := r.ends(d, share)
			u, ok := e.polish(r.u[d])
			if !ok {
				return false
			}
			l := component(r.box.Size, d)
			r.u[d] = u
			rest += u / complex(l*l, 0)
			slope += e.drift(u) / r.k / complex(l*l, 0)
		}
		step := rest / slope
		r.k -= step
		if cmplx.Abs(step) < 1e-13*cmplx.Abs(r.k) {
			return real(r.k) > 0
		}
	}
	return false
}

// ends returns the problem of one axis at the present k.
func (r *ringing) ends(d int, share float64) ends {
	f := math.Abs(real(r.omega())) / (2 * math.Pi)
	kappa := r.k * complex(share, 0)
	return newEnds(component(r.box.Size, d),
		kappa*r.box.Admittance(model.Face(2*d), f), kappa*r.box.Admittance(model.Face(2*d+1), f))
}

// drift returns k du/dk of an eigenvalue for walls of constant admittance, by
// implicit differentiation of F.
func (e ends) drift(u complex128) complex128 {
	c, s, slope := trig(u)
	ab, sum := e.a*e.b, e.a+e.b
	return (2*ab*s + sum*c) / (s + (u-ab)*slope + sum*s/2)
}

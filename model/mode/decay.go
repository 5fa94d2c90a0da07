package mode

import (
	"fmt"
	"math"
	"math/cmplx"

	"evenbass/model"
)

// FreeDecay returns a mode with n half waves along x, y, z as it rings by itself. It
// solves the coupled problem of all six walls for the complex wavenumber k:
//
//	k² = qx²(k) + qy²(k) + qz²(k),  2πf + jδ = ck/(1 - jη)
//
// (Morse & Ingard 1968, §9.4). The walls' admittance is continued from real to complex
// frequency by its Taylor series to second order, since that is where the mode rings.
//
// The mode is followed from rigid walls while the admittance grows to its full value.
// The error says so if the path is lost, as it may be where walls absorb so much that
// modes lose their identity; the mode then has no frequency and no rate. FreeDecay panics if n is 0-0-0, which does not ring, or
// negative.
func FreeDecay(box model.Box, n [3]int) (Mode, error) {
	if min(n[0], n[1], n[2]) < 0 || n == [3]int{} {
		panic(fmt.Sprintf("mode: free decay of mode %v", n))
	}
	f := rigid(box.Size, box.Air.Speed, n)
	m, _, err := freeDecay(newWalls(box, f/2, 2*f), n)
	return m, err
}

// freeDecay returns the axis modes' (qL)² as well.
func freeDecay(w *walls, n [3]int) (Mode, [3]complex128, error) {
	box := &w.box
	m := Mode{N: n, Rigid: rigid(box.Size, box.Air.Speed, n)}
	r := ringing{walls: w, k: complex(2*math.Pi*m.Rigid/box.Air.Speed, 0)}
	for d := range 3 {
		t := float64(n[d]) * math.Pi
		r.u[d] = complex(t*t, 0)
	}
	if err := r.follow(); err != nil {
		return m, r.u, fmt.Errorf("mode: free decay of %v: %w", m, err)
	}
	f := r.frequency()
	m.Frequency, m.Rate = real(f), 2*math.Pi*imag(f)
	return m, r.u, nil
}

// ringing is a state of free decay on its way from rigid walls to the real ones.
type ringing struct {
	*walls
	about int           // where the walls' series are expanded
	k     complex128    // 1/m
	u     [3]complex128 // (qL)² per axis
}

// frequency returns f + jδ/2π in Hz.
func (r *ringing) frequency() complex128 {
	return complex(r.box.Air.Speed/(2*math.Pi), 0) * r.k / complex(1, -r.box.Air.Loss)
}

// follow raises the admittance from nothing to its full value, in steps too small for
// an axis mode to come near its neighbour.
func (r *ringing) follow() error {
	const first, least, farthest = 1.0 / 4, 1e-4, 0.4
	for at, step := 0.0, first; at < 1; {
		next, to := *r, min(1, at+step)
		if next.solve(to) && next.distance(r) < farthest {
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

// solve settles about the frequency where it comes to rest.
func (r *ringing) solve(share float64) bool {
	for range 4 {
		r.about = r.nearest(real(r.frequency()))
		if !r.settle(share) {
			return false
		}
		if r.nearest(real(r.frequency())) == r.about {
			break
		}
	}
	return true
}

// settle solves for k with the admittance times a share, by the secant method, and
// reports whether it converged.
func (r *ringing) settle(share float64) bool {
	was := r.k
	before, ok := r.residual(share)
	if !ok {
		return false
	}
	r.k *= 1 + 1e-4i
	for range 40 {
		rest, ok := r.residual(share)
		if !ok {
			return false
		}
		step := rest * (r.k - was) / (rest - before)
		if rest == 0 || cmplx.Abs(step) < 1e-13*cmplx.Abs(r.k) {
			return real(r.k) > 0
		}
		was, before = r.k, rest
		r.k -= step
	}
	return false
}

// residual moves the axis modes to the present k and returns qx² + qy² + qz² - k²; it
// reports whether the axis modes were found.
func (r *ringing) residual(share float64) (complex128, bool) {
	rest := -r.k * r.k
	kappa, f := r.k*complex(share, 0), r.frequency()
	about := &r.series[r.about]
	for d := range 3 {
		l := component(r.box.Size, d)
		e := newEnds(l, kappa*about[2*d].at(f), kappa*about[2*d+1].at(f))
		u, ok := e.polish(r.u[d])
		if !ok {
			return 0, false
		}
		r.u[d] = u
		rest += u / complex(l*l, 0)
	}
	return rest, true
}

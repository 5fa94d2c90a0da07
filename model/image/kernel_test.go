package image

import (
	"math"
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
)

// The closed form of the kernel's transform against quadrature, losses included.
func TestKernelTransform(t *testing.T) {
	t.Parallel()
	k := newKernel(6, 2, 16)
	for _, omega := range []complex128{0.01, 0.7, 1.5, 0.9 - 0.05i} {
		part := func(of func(complex128) float64) float64 {
			return quad.Fixed(func(x float64) float64 {
				return k.at(x) * of(cmplx.Exp(-1i*omega*complex(x, 0)))
			}, -3, 3, 200, nil, 0)
		}
		want := complex(part(func(v complex128) float64 { return real(v) }), part(func(v complex128) float64 { return imag(v) }))
		if got := k.transform(omega); cmplx.Abs(got-want) > 1e-12 {
			t.Errorf("at %v: %v, want %v", omega, got, want)
		}
	}
}

// One arrival at any time must come out as e^{-jωt} for all ω up to the top.
func TestKernelGivesPureDelay(t *testing.T) {
	t.Parallel()
	for a, tol := range map[Accuracy]float64{Quick: 3e-5, Exact: 1e-11} {
		m := methods[a]
		k := newKernel(m.width, m.oversampling, m.rows)
		weights := make([]float64, m.width)
		for u := 0.003; u < 1; u += 0.0497 {
			k.weights(weights, u)
			for share := 0.05; share <= 1; share += 0.05 {
				omega := share * math.Pi / m.oversampling
				var sum complex128
				for i, w := range weights {
					sum += complex(w, 0) * cmplx.Exp(complex(0, -omega*float64(i-k.lead())))
				}
				got := sum / k.transform(complex(omega, 0))
				if d := cmplx.Abs(got - cmplx.Exp(complex(0, -omega*u))); d > tol {
					t.Fatalf("accuracy %d: off by %.2g at fraction %.3f and %.2f of the top", a, d, u, share)
				}
			}
		}
	}
}

// Each image sounds after its distance over c (Allen & Berkley, J. Acoust. Soc. Am. 65, 1979, Eq. 4).
// The room is 7 x 5 x 3 m with the source at (2, 1.5, 1.5) and the seat at (5.2, 3.1, 1.9); the images
// are mirrored by hand, those of the second order at two walls. The transform of the transfer must
// have its local maximum at that time. The direct sound comes first: there is little before it.
func TestArrivalTimes(t *testing.T) {
	t.Parallel()
	grid := make(model.Grid, 1580)
	for i := range grid {
		grid[i] = 200 + 10*float64(i)
	}
	box := model.Box{Size: r3.Vec{X: 7, Y: 5, Z: 3}, Air: airT, Walls: each(0.05)}
	seat := r3.Vec{X: 5.2, Y: 3.1, Z: 1.9}
	h := mustField(t, box, grid, Settings{MaxLength: 18.3}, seat).Transfer(nil, r3.Vec{X: 2, Y: 1.5, Z: 1.5})
	at := func(time float64) float64 {
		var sum complex128
		for i, f := range grid {
			window := 0.5 - 0.5*math.Cos(2*math.Pi*float64(i+1)/float64(len(grid)+1))
			sum += h[i] / complex(0, f) * cmplx.Exp(complex(0, 2*math.Pi*f*time)) * complex(window, 0)
		}
		return cmplx.Abs(sum)
	}
	for _, c := range []struct {
		name  string
		image r3.Vec
	}{
		{"direct", r3.Vec{X: 2, Y: 1.5, Z: 1.5}},
		{"ceiling", r3.Vec{X: 2, Y: 1.5, Z: 4.5}},
		{"floor", r3.Vec{X: 2, Y: 1.5, Z: -1.5}},
		{"left wall", r3.Vec{X: 2, Y: -1.5, Z: 1.5}},
		{"right wall", r3.Vec{X: 2, Y: 8.5, Z: 1.5}},
		{"back wall", r3.Vec{X: 12, Y: 1.5, Z: 1.5}},
		{"front wall", r3.Vec{X: -2, Y: 1.5, Z: 1.5}},
		{"left wall and ceiling", r3.Vec{X: 2, Y: -1.5, Z: 4.5}},
		{"left wall and floor", r3.Vec{X: 2, Y: -1.5, Z: -1.5}},
		{"floor, then ceiling", r3.Vec{X: 2, Y: 1.5, Z: 7.5}},
		{"right wall and ceiling", r3.Vec{X: 2, Y: 8.5, Z: 4.5}},
		{"right wall and floor", r3.Vec{X: 2, Y: 8.5, Z: -1.5}},
		{"back wall and left wall", r3.Vec{X: 12, Y: -1.5, Z: 1.5}},
	} {
		want := r3.Norm(r3.Sub(c.image, seat)) / 343
		best := want - 1e-4
		for time := best; time < want+1e-4; time += 4e-6 {
			if at(time) > at(best) {
				best = time
			}
		}
		if math.Abs(best-want) > 1e-5 {
			t.Errorf("%s: arrives after %.3f ms, want %.3f", c.name, 1e3*best, 1e3*want)
		}
	}
	direct := r3.Norm(r3.Vec{X: 3.2, Y: 1.6, Z: 0.4}) / 343
	for time := 0.0; time < direct-4e-4; time += 2e-5 {
		if early := at(time) / at(direct); early > 0.01 {
			t.Fatalf("%.1f %% of the direct sound is there after %.2f ms already", 100*early, 1e3*time)
		}
	}
}

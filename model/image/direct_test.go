package image

import (
	"math"
	"math/cmplx"
	"testing"

	"evenbass/model"

	"gonum.org/v1/gonum/spatial/r3"
)

// Most tests use one room, 5 x 4 x 2.5 m with c = 343 m/s and ρ = 1.21 kg/m³, for
// which exact solutions with locally reacting walls have been computed.
var (
	roomT   = r3.Vec{X: 5, Y: 4, Z: 2.5}
	sourceT = r3.Vec{X: 0.8, Y: 1.1, Z: 0.6}
	seatT   = r3.Vec{X: 3.3, Y: 2.3, Z: 1.2}
	airT    = model.Air{Speed: 343, Density: 1.21}
)

// each returns walls of constant admittance, the last one repeated.
func each(beta ...complex128) [6]model.Boundary {
	var w [6]model.Boundary
	for i := range w {
		w[i] = model.Plain(beta[min(i, len(beta)-1)])
	}
	return w
}

// sloped is a boundary whose admittance goes from one value at 20 Hz to another
// at 315 Hz, straight over log f.
type sloped struct{ low, high complex128 }

func (s sloped) Admittance(f float64) complex128 {
	u := complex(math.Log(f/20)/math.Log(315./20), 0)
	return s.low + u*(s.high-s.low)
}

// direct is the image sum written down as it stands: every image at every
// frequency, no tables, no kernel, no end window.
func direct(box *model.Box, grid model.Grid, l lattice) []complex128 {
	dst := make([]complex128, len(grid))
	for i, f := range grid {
		w := wallsAt(box, f)
		k := box.Air.Wavenumber(f)
		var g complex128
		l.columns(func(x, y *axisImage, zs []axisImage) {
			for n := range zs {
				z := &zs[n]
				r := math.Sqrt(x.sq + y.sq + z.sq)
				g += w.amplitude(x, y, z, r) * cmplx.Exp(-1i*k*complex(r, 0)) / complex(4*math.Pi*r, 0)
			}
		})
		dst[i] = complex(0, 2*math.Pi*f*box.Air.Density) * g
	}
	return dst
}

// worst returns the largest difference over the largest value.
func worst(got, want []complex128) float64 {
	var diff, top float64
	for i := range want {
		diff = max(diff, cmplx.Abs(got[i]-want[i]))
		top = max(top, cmplx.Abs(want[i]))
	}
	return diff / top
}

func mustField(t testing.TB, box model.Box, grid model.Grid, s Settings, seat r3.Vec) *Field {
	t.Helper()
	e, err := New(box, grid, s)
	if err != nil {
		t.Fatal(err)
	}
	f, err := e.Field(t.Context(), seat)
	if err != nil {
		t.Fatal(err)
	}
	return f.(*Field)
}

// The transform by way of a uniform series must give what summing every image at
// every frequency gives; the tolerances are those that Accuracy promises.
func TestAgainstDirectSum(t *testing.T) {
	t.Parallel()
	grid := model.NewGrid(20, 315, 6, 0)
	lossy := airT
	lossy.Loss = 0.003
	for _, c := range []struct {
		name  string
		walls [6]model.Boundary
		air   model.Air
	}{
		{"one real wall", each(0.05), airT},
		{"six real walls", each(0.02, 0.1, 0.03, 0.03, 0.01, 0.2), airT},
		{"complex walls", each(0.04+0.05i, 0.1, 0.05-0.02i), airT},
		{"rigid floor, lossy air", each(0.05, 0.05, 0.05, 0.05, 0, 0.05), lossy},
		{"more than matched", each(1.5, 0.6, 0.05), airT},
	} {
		box := model.Box{Size: roomT, Air: c.air, Walls: c.walls}
		for accuracy, tol := range map[Accuracy]float64{Quick: 1e-4, Exact: 1e-9} {
			f := mustField(t, box, grid, Settings{Decay: -25, Accuracy: accuracy}, seatT)
			f.engine.plan = newPlan(&f.engine.spreader, c.air, grid, 0)
			got := f.Transfer(nil, sourceT)
			want := direct(&box, grid, f.lattice(sourceT))
			if e := worst(got, want); !(e <= tol) {
				t.Errorf("%s: accuracy %d: off by %.2g, want %.2g", c.name, accuracy, e, tol)
			}
		}
	}
}

// Where walls change with frequency, Quick interpolates between few bands. 0.1 dB
// rms is far below what mirror images themselves are off by.
func TestBandsAgainstEveryFrequency(t *testing.T) {
	t.Parallel()
	grid := model.NewGrid(20, 315, 6, 0)
	for _, w := range [][6]model.Boundary{
		{sloped{0.08, 0.03}, sloped{0.15, 0.04}, nil, sloped{0.05, 0.04}, model.Plain(0.04), sloped{0.03, 0.1}},
		{sloped{0.08, 0.03}, sloped{0.15i + 0.1, 0.04}, model.Plain(0.03), sloped{0.05, 0.04}, model.Plain(0.04), sloped{0.05, 0.1 + 0.1i}},
	} {
		box := model.Box{Size: roomT, Air: airT, Walls: w}
		quick := mustField(t, box, grid, Settings{Decay: -38}, seatT)
		exact := mustField(t, box, grid, Settings{Decay: -38, Accuracy: Exact}, seatT)
		if n, all := len(bandsOf(quick.engine)), len(bandsOf(exact.engine)); n >= all || n < 2 || all != len(grid) {
			t.Errorf("%d bands quick and %d exact for %d frequencies", n, all, len(grid))
		}
		got, want := quick.Transfer(nil, sourceT), exact.Transfer(nil, sourceT)
		var sum float64
		for i := range grid {
			d := float64(model.LevelOf(cmplx.Abs(got[i] / want[i])))
			sum += d * d
		}
		if rms := math.Sqrt(sum / float64(len(grid))); !(rms < 0.1) {
			t.Errorf("bands at %.0f Hz: %.3f dB rms off", bandsOf(quick.engine), rms)
		}
	}
}

// Without must be the direct sum over those images that have not met the face.
func TestWithout(t *testing.T) {
	t.Parallel()
	grid := model.NewGrid(20, 315, 3, 0)
	box := model.Box{Size: roomT, Air: airT, Walls: each(0.02, 0.1, 0.03, 0.03, 0.05, 0.2)}
	f := mustField(t, box, grid, Settings{Decay: -30}, seatT)
	f.engine.plan = newPlan(&f.engine.spreader, airT, grid, 0)
	for _, face := range model.Faces {
		got := f.Without(nil, sourceT, face)
		l := newLattice(roomT, sourceT, seatT, f.engine.reach.Length)
		l.axes[face.Axis()] = keep(l.axes[face.Axis()], func(a axisImage) bool {
			return [2]int{a.near, a.far}[int(face)%2] == 0
		})
		if len(l.axes[face.Axis()]) != 2 {
			t.Fatalf("%v: %d images left on the axis, want the source and one mirror image", face, len(l.axes[face.Axis()]))
		}
		want := direct(&box, grid, l)
		if e := worst(got, want); !(e < 1e-4) {
			t.Errorf("%v: off by %.2g", face, e)
		}
	}
}

func keep(list []axisImage, which func(axisImage) bool) []axisImage {
	var kept []axisImage
	for _, a := range list {
		if which(a) {
			kept = append(kept, a)
		}
	}
	return kept
}

// bandsOf returns the frequencies in Hz at which the walls are sampled, in no order.
// Reflection at the others is interpolated from these.
func bandsOf(e *Engine) []float64 {
	var list []float64
	for _, c := range e.spreader.bands.controls {
		list = append(list, e.grid[c])
	}
	return list
}

package image

import (
	"math"
	"math/cmplx"
	"testing"

	"evenbass/model"

	"gonum.org/v1/gonum/spatial/r3"
)

// The rooms and places of most tests: room T of the project's collection of check
// values, 5 x 4 x 2.5 m, with c = 343 m/s and ρ = 1.21 kg/m³.
var (
	roomT   = r3.Vec{X: 5, Y: 4, Z: 2.5}
	sourceT = r3.Vec{X: 0.8, Y: 1.1, Z: 0.6}
	seatT   = r3.Vec{X: 3.3, Y: 2.3, Z: 1.2}
	airT    = model.Air{Speed: 343, Density: 1.21}
)

func uniform(beta complex128) [6]model.Boundary {
	var w [6]model.Boundary
	for i := range w {
		w[i] = model.Plain(beta)
	}
	return w
}

func each(beta ...complex128) [6]model.Boundary {
	var w [6]model.Boundary
	for i := range w {
		w[i] = model.Plain(beta[i])
	}
	return w
}

// direct is the image sum written down as it stands: every image at every
// frequency, no tables, no kernel, no end window.
func direct(box *model.Box, grid model.Grid, seat, source r3.Vec, length float64) []complex128 {
	dst := make([]complex128, len(grid))
	l := newLattice(box.Size, source, seat, length)
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

func TestProbe(t *testing.T) {
	for _, b := range []struct {
		name string
		w    [6]model.Boundary
	}{
		{"U1", uniform(.01)}, {"U2", uniform(.05)}, {"C1", uniform(.02 + .05i)}, {"N1", each(.02, .1, .03, .03, .01, .2)}, {"hard floor", each(.02, .02, .02, .02, 0.0, .02)},
	} {
		box := model.Box{Size: roomT, Air: airT, Walls: b.w}
		for _, decay := range []model.Level{-30, -60} {
			e, err := New(box, model.DefaultGrid(), Settings{Decay: decay})
			if err != nil {
				t.Fatal(err)
			}
			var n [3]int
			for a, rows := range e.spreader.tables.rows {
				for _, r := range rows {
					n[a] += r.nodes
				}
			}
			t.Log(b.name, decay, e.Reach(), e.Bands(), n)
			if e.reach.Length > 200 {
				continue
			}
			e.window = nil
			f, _ := e.Field(seatT)
			got := f.Transfer(nil, sourceT)
			want := direct(&box, e.grid, seatT, sourceT, e.reach.Length)
			var worst, top float64
			for i := range got {
				worst = max(worst, cmplx.Abs(got[i]-want[i]))
				top = max(top, cmplx.Abs(want[i]))
			}
			t.Logf("error %.2g", worst/top)
		}
	}
}

func BenchmarkTransfer(b *testing.B) {
	for _, c := range []struct {
		name  string
		walls [6]model.Boundary
		decay model.Level
	}{
		{"real", uniform(.05), -60}, {"real-30", uniform(.05), -30}, {"complex", uniform(.05 + .05i), -60},
	} {
		b.Run(c.name, func(b *testing.B) {
			box := model.Box{Size: roomT, Air: airT, Walls: c.walls}
			e, err := New(box, model.DefaultGrid(), Settings{Decay: c.decay})
			if err != nil {
				b.Fatal(err)
			}
			field, _ := e.Field(seatT)
			n := field.(*Field).Images(sourceT)
			dst := make([]complex128, len(e.grid))
			for b.Loop() {
				field.Transfer(dst, sourceT)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/image")
			b.ReportMetric(float64(n), "images")
		})
	}
}

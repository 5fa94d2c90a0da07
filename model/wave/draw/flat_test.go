package draw

import (
	"math"
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/absorber"
	"evenbass/model/trust"
	"evenbass/model/wave/scene"
	"evenbass/model/wave/solver"
	"evenbass/model/wave/wavetest"
)

// flatRoom is a room one cell high, in which sound is the same at every height. Its own solution
// is by finite volumes on a fine grid, one frequency at a time, and has nothing in common with the
// marching: wool is the complex density and modulus of its fluid, and nothing is assumed of how
// pieces react or of their edges. Everything in it ends at the borders of the fine cells.
type flatRoom struct {
	size   r3.Vec
	air    model.Air
	beta   float64 // of the front wall; the others are rigid
	wool   []scene.Porous
	films  []scene.Film
	blocks []scene.Solid
}

// solve returns p/Q by square cells of two sizes, h and h/2, whose errors of the order h²
// are taken out of each other (L. F. Richardson 1911).
func (r flatRoom) solve(grid model.Grid, h float64, a, b r3.Vec) []complex128 {
	out := make([]complex128, len(grid))
	for i, f := range grid {
		out[i] = (4*r.at(f, h/2, a, b) - r.at(f, h, a, b)) / 3
	}
	return out
}

// at solves ∇·(∇p/ρ) + ω²p/K = -jωq for one frequency in Hz.
func (r flatRoom) at(f, h float64, a, b r3.Vec) complex128 {
	nx, ny := int(math.Round(r.size.X/h)), int(math.Round(r.size.Y/h))
	w := 2 * math.Pi * f
	density, modulus := r.fluids(f, h, nx, ny)
	m := newBand(nx*ny, ny)
	join := func(i, j int, sheet float64) {
		g := 1 / (complex(h, 0) * ((density[i]+density[j])/2*complex(h, 0) + complex(sheet, 0)))
		m.rows[i][0] -= g
		m.rows[j][0] -= g
		m.rows[i][j-i] += g
	}
	for i := range nx {
		for j := range ny {
			k, x, y := i*ny+j, float64(i)*h, float64(j)*h
			m.rows[k][0] += complex(w*w, 0) / modulus[k]
			if j+1 < ny {
				join(k, k+1, r.film(1, r3.Vec{X: x + h/2, Y: y + h}))
			}
			if i+1 < nx {
				join(k, k+ny, r.film(0, r3.Vec{X: x + h, Y: y + h/2}))
			}
			if i == 0 { // the front wall is half a cell behind
				beta := 1 / (complex(1/r.beta, 0) + complex(0, w*h/2)*density[k]/complex(r.air.Impedance(), 0))
				m.rows[k][0] -= complex(0, w) * beta / complex(r.air.Impedance()*h, 0)
			}
		}
	}
	p := make([]complex128, nx*ny)
	spread(a, h, ny, func(k int, weight float64) { p[k] -= complex(0, w*weight/(h*h*r.size.Z)) })
	m.solve(p)
	var sum complex128
	spread(b, h, ny, func(k int, weight float64) { sum += complex(weight, 0) * p[k] })
	return sum
}

// spread shares a place out among the four cells round it.
func spread(at r3.Vec, h float64, ny int, f func(k int, weight float64)) {
	x, y := at.X/h-0.5, at.Y/h-0.5
	i, j := math.Floor(x), math.Floor(y)
	for corner := range 4 {
		di, dj := float64(corner&1), float64(corner>>1)
		f(int(i+di)*ny+int(j+dj), (1-math.Abs(x-i-di))*(1-math.Abs(y-j-dj)))
	}
}

// fluids returns what fills every cell. A block is a fluid too heavy and stiff to move.
func (r flatRoom) fluids(f, h float64, nx, ny int) (density, modulus []complex128) {
	density, modulus = make([]complex128, nx*ny), make([]complex128, nx*ny)
	for k := range density {
		at := r3.Vec{X: (float64(k/ny) + 0.5) * h, Y: (float64(k%ny) + 0.5) * h}
		density[k] = complex(r.air.Density, 0)
		modulus[k] = complex(r.air.Density*r.air.Speed*r.air.Speed, 0)
		for _, p := range r.wool {
			if inPlan(at, p.Min, p.Max, 0) {
				fluid := p.Fluid(f)
				density[k], modulus[k] = fluid.Density(f), fluid.Modulus(f)
			}
		}
		for _, b := range r.blocks {
			if inPlan(at, b.Min, b.Max, 0) {
				density[k], modulus[k] = 1e7, 1e14
			}
		}
	}
	return density, modulus
}

// film returns what hangs in the middle of a face across an axis, kg/m².
func (r flatRoom) film(axis int, at r3.Vec) float64 {
	for _, f := range r.films {
		if f.Axis() == axis && inPlan(at, f.Min, f.Max, 1e-6) {
			return f.SurfaceMass
		}
	}
	return 0
}

// inPlan reports whether a place is above a rectangle of the floor, to a tolerance in m.
func inPlan(at, low, high r3.Vec, tol float64) bool {
	return at.X > low.X-tol && at.X < high.X+tol && at.Y > low.Y-tol && at.Y < high.Y+tol
}

// hang adds layers to the back wall, from y = from to to in m.
func (r *flatRoom) hang(pieces []absorber.Piece, from, to float64) {
	x := r.size.X - rearLayer{pieces: pieces}.depth()
	for _, p := range pieces {
		low, high := r3.Vec{X: x, Y: from}, r3.Vec{X: x + p.Thickness, Y: to, Z: r.size.Z}
		switch p.Form {
		case absorber.Film:
			r.films = append(r.films, scene.Film{Min: low, Max: high, SurfaceMass: p.SurfaceMass})
		case absorber.Wool:
			r.wool = append(r.wool, scene.Porous{Min: low, Max: high, PorousVolume: p.Porous})
		}
		x += p.Thickness
	}
}

// banded is a complex symmetric matrix of which rows[k][r] is element k, k+r.
type banded struct{ rows [][]complex128 }

func newBand(n, width int) banded {
	m := banded{rows: make([][]complex128, n)}
	all := make([]complex128, n*(width+1))
	for k := range m.rows {
		m.rows[k] = all[k*(width+1) : (k+1)*(width+1)][:min(width, n-1-k)+1]
	}
	return m
}

// solve replaces x by the solution for it on the right, by elimination without
// exchanges. It destroys the matrix.
func (m banded) solve(x []complex128) {
	for k, row := range m.rows {
		for r := 1; r < len(row); r++ {
			l := row[r] / row[0]
			below := m.rows[k+r][:len(row)-r]
			for s, v := range row[r:] {
				below[s] -= l * v
			}
			x[k+r] -= l * x[k]
		}
	}
	for k := len(x) - 1; k >= 0; k-- {
		row := m.rows[k]
		for r := 1; r < len(row); r++ {
			x[k] -= row[r] * x[k+r]
		}
		x[k] /= row[0]
	}
}

// The solution itself, with wool over the whole of the wall, against the exact series.
func TestFlatRoom(t *testing.T) {
	t.Parallel()
	air := model.AirAt(0)
	size := r3.Vec{X: 2, Y: 1.4, Z: 0.1}
	pieces := []absorber.Piece{
		{Form: absorber.Film, SurfaceMass: 0.2},
		{Form: absorber.Wool, Thickness: 0.2, Porous: wavetest.Wool(air, 6e3)},
		{Thickness: 0.1},
	}
	source, seat := r3.Vec{X: 0.4, Y: 0.3, Z: 0.05}, r3.Vec{X: 1.2, Y: 0.95, Z: 0.05}
	grid := model.NewGrid(20, 300, 4, 0)
	flat := flatRoom{size: size, air: air, beta: 0.05}
	flat.hang(pieces, 0, size.Y)
	got := flat.solve(grid, 0.05, source, seat)
	want := rearLayer{size: size, air: air, beta: 0.05, pieces: pieces}.exact(grid, source, seat)
	for i, f := range grid {
		if e := cmplx.Abs(got[i]/want[i] - 1); e > 0.003 {
			t.Errorf("%.0f Hz: off by %.4f of the exact pressure", f, e)
		}
	}
}

// Layers on a part of a wall, with their edges, against the finite volumes.
func TestPieceOfAWall(t *testing.T) {
	t.Parallel()
	porous := func(depth, sigma float64) model.Layer {
		return model.Layer{Kind: model.PorousLayer, Thickness: depth, Resistivity: sigma}
	}
	film, gap := model.Layer{Kind: model.FilmLayer, SurfaceMass: 0.2}, model.Layer{Kind: model.GapLayer, Thickness: 0.1}
	flat := flatRoom{size: r3.Vec{X: 2, Y: 1.4, Z: 0.1}, air: model.AirAt(0), beta: 0.05}
	const from, to = 0.3, 1.0
	source, seat := r3.Vec{X: 0.4, Y: 0.3, Z: 0.05}, r3.Vec{X: 1.2, Y: 0.95, Z: 0.05}
	grid := model.NewGrid(20, 300, 10, 0)
	bare := flat.solve(grid, 0.05, source, seat)
	var off [3]float64 // dB rms at worst
	least, most := math.Inf(1), 0.0
	for _, test := range []struct {
		name   string
		layers []model.Layer
		tol    float64 // dB rms
	}{
		{"film, wool and gap", []model.Layer{film, porous(0.2, 6e3), gap}, 0.25},
		{"thin wool on a gap", []model.Layer{porous(0.05, 12e3), gap}, 0.55},
		{"dense wool", []model.Layer{porous(0.1, 20e3)}, 0.2},
	} {
		room := rearRoom(flat.size, flat.beta, test.layers)
		room.Treatments[0].Patch = model.Patch{Face: model.Back, Along: from, Width: to - from, Height: flat.size.Z}
		d, err := Room(room, material.Typical, solver.DefaultCell, nil)
		if err != nil {
			t.Fatal(err)
		}
		stack, _, err := absorber.NewStack(test.layers, &absorber.Options{Air: d.Scene.Air})
		if err != nil {
			t.Fatal(err)
		}
		treated := flat
		treated.hang(stack.Pieces(), from, to)
		want := treated.solve(grid, 0.05, source, seat)
		got := solve(t, d.Scene, grid, solver.DefaultCell, source, seat)
		for i, limit := range []float64{120, 200, 300} {
			rms, worth := wavetest.LevelError(grid, got, want, limit), wavetest.LevelError(grid, bare, want, limit)
			off[i], least, most = max(off[i], rms), min(least, worth), max(most, worth)
			t.Logf("%s: %.2f dB rms to %g Hz, where the piece makes %.1f dB", test.name, rms, limit, worth)
			if rms > test.tol || rms > worth/5 {
				t.Errorf("%s: %.2f dB rms to %g Hz, want %.2f", test.name, rms, limit, test.tol)
			}
		}
	}
	trust.Seen(t, "`wave`, layers on part of a wall", "%s dB at worst to 120 / 200 / 300 Hz, where the layers make %.1g to %.1g dB", trust.Figures(2, off[:]...), least, most)
}

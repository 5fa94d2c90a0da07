package wave

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/absorber"
	"evenbass/model/trust"
	"evenbass/model/wave/draw"
	"evenbass/model/wave/wavetest"
)

// A triangular fill, bare and behind films, comes closer with finer cells to finite elements on
// triangles of which one side lies on the slope. The room is so low that the sound in it is plane
// over its height. The film of 1.5 kg/m² is fifteen times as heavy as a usual one.
func TestTriangularFillAgainstTriangles(t *testing.T) {
	t.Parallel()
	var off [3][3]float64 // by film and limit
	t.Cleanup(func() {
		if !t.Failed() {
			trust.Seen(t, "`wave`, triangular corner fill: bare, with film of 0.1 and of 1.5 kg/m²", "%s, %s and %s dB to 120 / 200 / 300 Hz", trust.Figures(2, off[0][:]...), trust.Figures(2, off[1][:]...), trust.Figures(2, off[2][:]...))
		}
	})
	for i, c := range []struct {
		mass float64    // of the film, kg/m²
		most [3]float64 // dB rms to 120, 200 and 300 Hz, by cells of 0.1 m
	}{
		{0, [3]float64{0.25, 0.4, 0.5}},
		{0.1, [3]float64{0.3, 0.4, 0.5}},
		{1.5, [3]float64{0.3, 0.4, 0.5}},
	} {
		t.Run(fmt.Sprintf("film of %g kg per m²", c.mass), func(t *testing.T) {
			t.Parallel()
			off[i] = compareFill(t, c.mass, c.most)
		})
	}
}

// compareFill returns the errors by cells of 0.1 m to 120, 200 and 300 Hz, dB rms.
func compareFill(t *testing.T, mass float64, most [3]float64) [3]float64 {
	layers := []model.Layer{{Kind: model.PorousLayer, Thickness: 0.4, Resistivity: 8000}}
	if mass > 0 {
		film := model.Layer{Kind: model.FilmLayer, SurfaceMass: mass}
		layers = append([]model.Layer{film}, layers...)
	}
	room := &model.Room{Size: r3.Vec{X: 2, Y: 1.6, Z: 0.4}}
	for _, f := range model.Faces {
		room.Walls[f] = model.Surface{Impedance: 40}
	}
	room.Walls[model.Floor], room.Walls[model.Ceiling] = model.Surface{Impedance: 1e6}, model.Surface{Impedance: 1e6}
	room.Treatments = []model.Treatment{{
		Name: "fill", Form: model.InCorner, Layers: layers,
		Corner: model.Corner{Walls: [2]model.Face{model.Front, model.Left}, Leg: 0.4, To: 0.4},
	}}
	drawn, err := draw.Room(room, material.Typical, 0.1, nil)
	if err != nil {
		t.Fatal(err)
	}
	source, seat := r3.Vec{X: 1.7, Y: 0.3, Z: 0.2}, r3.Vec{X: 0.7, Y: 1.3, Z: 0.2}
	var grid model.Grid
	for f := 30.0; f <= 300; f += 10 {
		grid = append(grid, f)
	}
	exact := triangles{
		size: r2.Vec{X: 2, Y: 1.6}, step: 0.02, leg: 0.4, air: room.Air(), beta: 1.0 / 40,
		wool: drawn.Scene.Porous[0].PorousVolume, mass: mass,
	}
	want := make([]complex128, len(grid))
	for i, f := range grid {
		want[i] = exact.pressure(f, r2.Vec{X: source.X, Y: source.Y}, r2.Vec{X: seat.X, Y: seat.Y}) / complex(room.Size.Z, 0)
	}
	var coarse [3]float64
	for _, cell := range []float64{0.1, 0.05} {
		solved, err := NewRoom(room, material.Typical, grid, Settings{Cell: cell, Zones: wavetest.Around(source)})
		if err != nil {
			t.Fatal(err)
		}
		for _, w := range solved.Warnings() {
			t.Error(w)
		}
		got := wavetest.Transfer(t, solved, source, seat)
		for i, to := range []float64{121, 201, 301} {
			e := wavetest.LevelError(grid, got, want, to)
			t.Logf("cells of %.2f m: %.2f dB rms to %v Hz", cell, e, to-1)
			if cell == 0.1 {
				coarse[i] = e
			}
			if e > most[i] {
				t.Errorf("cells of %.2f m: %.2f dB rms to %v Hz, want %v", cell, e, to-1, most[i])
			}
			if e > max(coarse[i], 0.15) { // what is left of the triangles' own error and the walls'
				t.Errorf("cells of %.2f m: %.2f dB rms to %v Hz, no better than the %.2f of coarse ones", cell, e, to-1, coarse[i])
			}
		}
	}
	return coarse
}

// A fill behind film makes the same of sound in whatever corner it stands.
func TestFillInEveryCorner(t *testing.T) {
	t.Parallel()
	size := r3.Vec{X: 2, Y: 1.6, Z: 0.4}
	var first []complex128
	for _, walls := range [][2]model.Face{
		{model.Front, model.Left}, {model.Left, model.Front}, {model.Back, model.Left}, {model.Front, model.Right}, {model.Right, model.Back},
	} {
		room := &model.Room{Size: size}
		for _, f := range model.Faces {
			room.Walls[f] = model.Surface{Impedance: 20}
		}
		room.Treatments = []model.Treatment{{
			Form: model.InCorner, Corner: model.Corner{Walls: walls, Leg: 0.45, To: 0.4},
			Layers: []model.Layer{{Kind: model.FilmLayer, SurfaceMass: 1}, {Kind: model.PorousLayer, Thickness: 0.45, Resistivity: 8000}},
		}}
		source, seat := r3.Vec{X: 1.55, Y: 0.35, Z: 0.25}, r3.Vec{X: 0.75, Y: 1.25, Z: 0.15}
		for _, f := range walls {
			switch f {
			case model.Back:
				source.X, seat.X = size.X-source.X, size.X-seat.X
			case model.Right:
				source.Y, seat.Y = size.Y-source.Y, size.Y-seat.Y
			}
		}
		solved, err := NewRoom(room, material.Typical, wavetest.Coarse, Settings{Cell: 0.1, Zones: wavetest.Around(source)})
		if err != nil {
			t.Fatal(err)
		}
		got := wavetest.Transfer(t, solved, source, seat)
		if first == nil {
			first = got
		}
		if d := wavetest.Difference(got, first); d > 1e-4 {
			t.Errorf("between %s and %s: %.5f off", walls[0].Wall(), walls[1].Wall(), d)
		}
	}
}

// triangles is a room on plan in squares that are cut into two triangles, with a fill in the
// corner at the origin. The pressure is linear over each triangle (Zienkiewicz & Taylor, The Finite
// Element Method). Behind a film it has values of its own.
type triangles struct {
	size      r2.Vec
	step, leg float64
	air       model.Air
	beta      float64 // of the four walls
	wool      absorber.PorousVolume
	mass      float64 // of the film, kg/m²
}

// pressure returns p at one place for a line source of unit volume velocity per length at
// another.
func (m triangles) pressure(f float64, source, seat r2.Vec) complex128 {
	nx, ny := int(math.Round(m.size.X/m.step)), int(math.Round(m.size.Y/m.step))
	n := int(math.Round(m.leg / m.step))
	// Nodes row by row in x; behind a film those on the slope come twice.
	front := make([][]int, nx+1)
	behind := make([][]int, nx+1)
	count := 0
	for i := range nx + 1 {
		for j := range ny + 1 {
			front[i] = append(front[i], count)
			behind[i] = append(behind[i], count)
			count++
			if m.mass > 0 && i+j == n {
				behind[i][j] = count
				count++
			}
		}
	}
	w := 2 * math.Pi * f
	k := newBand(count, ny+4)
	wool := m.wool.Fluid(f)
	rhoWool := wool.Density(f)
	bulkWool := wool.Impedance * wool.Impedance / rhoWool
	rho := complex(m.air.Density, 0)
	wave := m.air.Wavenumber(f)
	bulk := rho * complex(w*w, 0) / (wave * wave)
	for i := range nx {
		for j := range ny {
			for upper := range 2 {
				at := [3][2]int{{i, j}, {i + 1, j}, {i, j + 1}}
				inside := i+j < n
				if upper == 1 {
					at = [3][2]int{{i + 1, j + 1}, {i, j + 1}, {i + 1, j}}
					inside = i+j+1 < n
				}
				nodes, density, modulus := front, rho, bulk
				if inside {
					nodes, density, modulus = behind, rhoWool, bulkWool
				}
				// Right-angled at the first node: gradients ∓1/h.
				stiff := [3][3]float64{{1, -0.5, -0.5}, {-0.5, 0.5, 0}, {-0.5, 0, 0.5}}
				for a := range 3 {
					for b := range 3 {
						mass := m.step * m.step / 24
						if a == b {
							mass *= 2
						}
						k.add(nodes[at[a][0]][at[a][1]], nodes[at[b][0]][at[b][1]],
							complex(stiff[a][b], 0)/density-complex(w*w*mass, 0)/modulus)
					}
				}
			}
		}
	}
	// line adds (p, q) over the side between two nodes, times a factor.
	line := func(a, b [2]int, length float64, nodes [2][][]int, factor complex128) {
		for s, left := range nodes {
			for u, right := range nodes {
				sign := complex(1, 0)
				if s != u {
					sign = -1
				}
				for x, p := range [2][2]int{a, b} {
					for y, q := range [2][2]int{a, b} {
						share := length / 6
						if x == y {
							share *= 2
						}
						k.add(left[p[0]][p[1]], right[q[0]][q[1]], sign*factor*complex(share, 0))
					}
				}
				if &nodes[0][0][0] == &nodes[1][0][0] {
					return // a wall has one side
				}
			}
		}
	}
	if m.mass > 0 {
		for i := range n {
			line([2]int{i, n - i}, [2]int{i + 1, n - i - 1}, m.step*math.Sqrt2, [2][][]int{front, behind}, complex(1/m.mass, 0))
		}
	}
	wall := complex(0, w*m.beta/m.air.Impedance())
	at := func(i, j int) [][]int {
		if i+j < n {
			return behind
		}
		return front
	}
	for i := range nx {
		line([2]int{i, 0}, [2]int{i + 1, 0}, m.step, [2][][]int{at(i, 0), at(i, 0)}, wall)
		line([2]int{i, ny}, [2]int{i + 1, ny}, m.step, [2][][]int{front, front}, wall)
	}
	for j := range ny {
		line([2]int{0, j}, [2]int{0, j + 1}, m.step, [2][][]int{at(0, j), at(0, j)}, wall)
		line([2]int{nx, j}, [2]int{nx, j + 1}, m.step, [2][][]int{front, front}, wall)
	}
	right := make([]complex128, count)
	node := func(v r2.Vec) int { return front[int(math.Round(v.X/m.step))][int(math.Round(v.Y/m.step))] }
	right[node(source)] = complex(0, w)
	return k.solve(right)[node(seat)]
}

// bandMatrix is a symmetric complex matrix: rows[i][d] is entry (i, i+d).
type bandMatrix struct {
	rows [][]complex128
}

func newBand(n, width int) bandMatrix {
	m := bandMatrix{rows: make([][]complex128, n)}
	for i := range m.rows {
		m.rows[i] = make([]complex128, min(width+1, n-i))
	}
	return m
}

// add adds to an entry of the upper half; the lower half is the same.
func (m bandMatrix) add(i, j int, v complex128) {
	if j >= i {
		m.rows[i][j-i] += v
	}
}

// solve eliminates without pivots, which the losses of the walls permit.
func (m bandMatrix) solve(right []complex128) []complex128 {
	for i, row := range m.rows {
		for d := 1; d < len(row); d++ {
			factor := row[d] / row[0]
			if factor == 0 {
				continue
			}
			below := m.rows[i+d]
			for e, v := range row[d:] {
				below[e] -= factor * v
			}
			right[i+d] -= factor * right[i]
		}
	}
	for i := len(right) - 1; i >= 0; i-- {
		row := m.rows[i]
		for d := 1; d < len(row); d++ {
			right[i] -= row[d] * right[i+d]
		}
		right[i] /= row[0]
	}
	return right
}

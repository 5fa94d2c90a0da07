package lattice

import (
	"math"

	"evenbass/model/wave/scene"
)

// safety keeps the time step below the bound, for rounding and for resistances.
const safety = 0.98

// StableStep returns the longest time step for which the leapfrog cannot grow, s.
//
// The stiffness of the whole grid is a sum over the cubes between eight cell centres, and each
// cell's compliance can be shared out among its cubes at will. The largest eigenvalue of the whole
// is then no larger than that of the worst cube (the element bound of finite elements). In uniform
// air the worst is 16/(3h²), hence cT < 0.866 h.
func (m *Medium) StableStep() float64 {
	own := m.wallStiffness()
	plain := m.plain(own)
	var whole, other [8][8]float64 // a cube of plain cells, which most are, and the last of other cells
	cube := func(at *[8]int) *[8][8]float64 {
		for _, i := range at {
			if !plain[i] {
				m.cube(&other, at, own)
				return &other
			}
		}
		if whole[0][0] == 0 {
			m.cube(&whole, at, own)
		}
		return &whole
	}
	total := make([]float64, m.Size) // diagonal of the whole matrix, by cell
	m.cubes(func(at *[8]int) {
		k := cube(at)
		for v, i := range at {
			total[i] += k[v][v]
		}
	})
	worst := 0.0
	var before [8][8]float64
	var seen [8]float64 // totals of the last plain cube
	m.cubes(func(at *[8]int) {
		shared := cube(at)
		if shared == &whole {
			var totals [8]float64
			for v, i := range at {
				totals[v] = total[i]
			}
			if totals == seen {
				return
			}
			seen = totals
		}
		k := *shared
		var invRoot [8]float64
		for v, i := range at {
			if k[v][v] > 0 {
				invRoot[v] = 1 / math.Sqrt(m.Capacity(i)*k[v][v]/total[i])
			}
		}
		for v := range k {
			for w := range k {
				k[v][w] *= invRoot[v] * invRoot[w]
			}
		}
		if k != before { // most neighbours are equal
			before = k
			worst = max(worst, eigenvalueBound(&k, worst))
		}
	})
	return safety * 2 / (m.Air.Speed * math.Sqrt(worst))
}

// plain tells by cell whether it is whole air with whole faces on its upper sides and no walls. A cube of
// eight such cells is like any other.
func (m *Medium) plain(own []float64) []bool {
	plain := make([]bool, m.Size)
	m.Each(func(i int, _ [3]int) {
		plain[i] = own[i] == 0 && m.Capacity(i) == 1
		for a := range 3 {
			plain[i] = plain[i] && m.open[a][i] == 1 && (m.loads[a] == nil || m.loads[a][i] == load{})
		}
	})
	return plain
}

// wallStiffness returns by cell the stiffness of its wall faces, as if each were held by the air in
// front of it alone: area/(cell volume · depth), 1/m². A wall's own mass makes it less and counts
// where it is known.
func (m *Medium) wallStiffness() []float64 {
	own := make([]float64, m.Size)
	for _, w := range m.Walls {
		own[w.Cell] += w.Area / (m.Cells.Volume() * (w.Depth + m.surfaceMass(w.Surface)/m.Air.Density))
	}
	return own
}

// surfaceMass returns the mass of a surface at high frequencies, kg/m²: that of its branches in
// parallel. It leaves out the mass that a branch needs to hold its own spring over the longest
// possible step.
func (m *Medium) surfaceMass(surface int) float64 {
	longest := min(m.H[0], m.H[1], m.H[2]) / m.Air.Speed
	var sum float64
	for _, b := range m.Surfaces[surface].List {
		sum += 1 / max(b.Mass-b.Stiffness*longest*longest/4, 1e-9)
	}
	return 1 / sum
}

// cubes calls f with the eight cells around every corner of the grid. Solid cells and ghosts have
// no stiffness and do no harm.
func (m *Medium) cubes(f func(at *[8]int)) {
	var at [8]int
	for k := -1; k < m.N[2]; k++ {
		for j := -1; j < m.N[1]; j++ {
			for i := -1; i < m.N[0]; i++ {
				first := m.At(i, j, k)
				for v := range at {
					at[v] = first + v&1*m.Stride[0] + v>>1&1*m.Stride[1] + v>>2*m.Stride[2]
				}
				f(&at)
			}
		}
	}
}

// cube sets k to the stiffness of one cube: a quarter of each face that joins two of its cells, half
// of each square, and an eighth of each cell's own.
func (m *Medium) cube(k *[8][8]float64, at *[8]int, own []float64) {
	*k = [8][8]float64{}
	var faces [3][8]float64 // conductances by axis and lower cell
	for v := range at {
		k[v][v] += own[at[v]] / 8
		for a := range 3 {
			w := v | 1<<a
			if w == v {
				continue
			}
			faces[a][v] = m.conductance(a, at[v])
			g := (faces[a][v] + m.dragStiffness(a, at[v])) / 4
			k[v][v] += g
			k[w][w] += g
			k[v][w] -= g
			k[w][v] -= g
		}
	}
	for a := range 3 {
		b, c := scene.OtherAxes(a)
		for side := range 2 {
			v := side << a
			four := [4]int{v, v | 1<<b, v | 1<<c, v | 1<<b | 1<<c}
			g := m.square(b, c, faces[b][v], faces[b][four[2]], faces[c][v], faces[c][four[1]]) / 2
			if g == 0 {
				continue
			}
			sign := [4]float64{1, -1, -1, 1}
			for p, x := range four {
				for q, y := range four {
					k[x][y] -= g * sign[p] * sign[q]
				}
			}
		}
	}
}

// dragStiffness returns what the part of a face with drag would conduct if it had none, 1/m².
func (m *Medium) dragStiffness(a, i int) float64 {
	if m.loads[a] == nil {
		return 0
	}
	l := &m.loads[a][i]
	if l.drag <= 0 {
		return 0
	}
	cross, air := l.cross(), m.Air.Density*m.H[a]
	return m.open[a][i] * cross / ((air + l.film + l.mass/cross) / air * m.H[a] * m.H[a])
}

// eigenvalueBound returns an upper bound of the largest eigenvalue of a positive semidefinite
// matrix: the 32nd root of the trace of its 32nd power, at most 7 % too high. It returns at once if
// a coarser bound is already below the known value.
func eigenvalueBound(k *[8][8]float64, known float64) float64 {
	bound := largestRow(k)
	if bound <= known {
		return bound
	}
	m, scale := *k, 1.0
	for power := 1; ; power *= 2 {
		var trace float64
		for v := range m {
			trace += m[v][v]
		}
		if trace == 0 {
			return 0
		}
		// m is the power of the matrix divided by scale.
		bound = scale * math.Pow(trace, 1/float64(power))
		if bound <= known || power == 32 {
			return bound
		}
		scale = bound
		var next [8][8]float64
		for v := range m {
			for w := range v + 1 {
				var sum float64
				for x := range m {
					sum += m[v][x] * m[x][w]
				}
				next[v][w] = sum / (trace * trace)
				next[w][v] = next[v][w]
			}
		}
		m = next
	}
}

// largestRow returns the largest sum of sizes in a row of a symmetric matrix, which bounds its eigenvalues.
func largestRow(k *[8][8]float64) float64 {
	var most float64
	for v := range k {
		var sum float64
		for _, x := range k[v] {
			sum += math.Abs(x)
		}
		most = max(most, sum)
	}
	return most
}

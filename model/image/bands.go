package image

import (
	"math"
	"sort"

	"evenbass/model"

	"gonum.org/v1/gonum/mat"
)

// bands are the few control frequencies at which the walls are sampled. The
// amplitude of an image at any other frequency is a weighted sum of those at the
// controls, with weights that are the same for all images.
type bands struct {
	grid     model.Grid
	controls []int       // indices in the grid
	walls    []walls     // at each control
	weights  [][]float64 // [control][frequency of the grid]
	real     bool        // no wall has an imaginary part at any control
}

// newBands chooses as few controls as keep the weighted amplitudes of typical paths
// up to the length within tol, or all frequencies of the grid if tol is 0. Walls
// that do not change need one.
//
// Reflection products are smooth exponentials over frequency, so that three to six
// controls do for the walls of a house. They are found by interpolative
// decomposition: pivots of a QR factorisation with column pivoting, and weights by
// least squares (Cheng, Gimbutas, Martinsson & Rokhlin, SIAM J. Sci. Comput. 26,
// 2005).
func newBands(box *model.Box, grid model.Grid, length, tol float64) *bands {
	at := make([]walls, len(grid))
	same := true
	for i, f := range grid {
		at[i] = wallsAt(box, f)
		same = same && at[i] == at[0]
	}
	b := &bands{grid: grid, real: true}
	switch {
	case same:
		b.controls = []int{0}
		b.weights = [][]float64{make([]float64, len(grid))}
		for i := range grid {
			b.weights[0][i] = 1
		}
	case tol == 0:
		for i := range grid {
			b.controls = append(b.controls, i)
			b.weights = append(b.weights, make([]float64, len(grid)))
			b.weights[i][i] = 1
		}
	default:
		b.controls, b.weights = decompose(newProbes(box, at, length), tol)
	}
	for _, c := range b.controls {
		b.walls = append(b.walls, at[c])
		b.real = b.real && at[c].real()
	}
	return b
}

// weight returns the weight of a control at any frequency: between those of the
// grid on the straight line over log f, beyond its ends as there.
func (b *bands) weight(control int, f float64) float64 {
	w, g := b.weights[control], b.grid
	i := sort.SearchFloat64s(g, f)
	switch {
	case i == 0:
		return w[0]
	case i == len(g):
		return w[len(g)-1]
	case g[i] == f:
		return w[i]
	}
	u := math.Log(f/g[i-1]) / math.Log(g[i]/g[i-1])
	return w[i-1] + u*(w[i]-w[i-1])
}

// probes are the amplitudes of some typical paths, one a row, at every frequency of
// the grid, one a column.
type probes struct{ mat.Dense }

// directness is the weight of the direct sound among the probes, whose amplitude is
// one at every frequency and must come out as that.
const directness = 1e3

// newProbes takes single reflections from every wall at three angles, and longer
// paths along the axes, between two and between all three of them.
func newProbes(box *model.Box, at []walls, length float64) *probes {
	size := components(box.Size)
	var rows [][]float64
	add := func(of func(w *walls) complex128) {
		re, im := make([]float64, len(at)), make([]float64, len(at))
		for i := range at {
			a := of(&at[i])
			re[i], im[i] = real(a), imag(a)
		}
		rows = append(rows, re, im)
	}
	add(func(*walls) complex128 { return directness })
	for _, face := range model.Faces {
		for _, c := range [3]float64{1, 0.6, 0.2} {
			add(func(w *walls) complex128 { return Reflection(w[face], c) })
		}
	}
	for _, d := range [10][3]float64{
		{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {1, 1, 0}, {1, 0, 1}, {0, 1, 1}, {1, 1, 1}, {3, 1, 1}, {1, 3, 1}, {1, 1, 3},
	} {
		norm := math.Sqrt(d[0]*d[0] + d[1]*d[1] + d[2]*d[2])
		for _, share := range [5]float64{1. / 32, 1. / 16, 1. / 8, 1. / 4, 1. / 2} {
			add(func(w *walls) complex128 {
				a := complex(1, 0)
				for axis := range d {
					if c := d[axis] / norm; c > 0 {
						n := int(math.Ceil(share * length * c / (2 * size[axis])))
						a *= w.pair(axis, n, n, c)
					}
				}
				return a
			})
		}
	}
	p := &probes{*mat.NewDense(len(rows), len(at), nil)}
	for i, row := range rows {
		p.SetRow(i, row)
	}
	return p
}

// decompose picks columns of the probes until all others are sums of them within
// tol, and returns their indices and the weights of those sums.
func decompose(p *probes, tol float64) (columns []int, weights [][]float64) {
	rows, n := p.Dims()
	rest := mat.DenseCopyOf(p)
	for {
		pivot := largestColumn(rest)
		columns = append(columns, pivot)
		chosen := mat.NewDense(rows, len(columns), nil)
		for i, c := range columns {
			chosen.SetCol(i, mat.Col(nil, c, p))
		}
		var qr mat.QR
		qr.Factorize(chosen)
		var w mat.Dense
		// An ill-conditioned choice still has a solution, which is then judged.
		_ = qr.SolveTo(&w, false, p)
		rest.Mul(chosen, &w)
		rest.Sub(p, rest)
		if len(columns) == min(rows, n) || max(mat.Max(rest), -mat.Min(rest)) <= tol {
			for i := range columns {
				weights = append(weights, mat.Row(nil, i, &w))
			}
			return columns, weights
		}
	}
}

// largestColumn returns the index of the column with the largest norm.
func largestColumn(m *mat.Dense) int {
	_, n := m.Dims()
	best, top := 0, -1.0
	for i := range n {
		if norm := mat.Norm(m.ColView(i), 2); norm > top {
			best, top = i, norm
		}
	}
	return best
}

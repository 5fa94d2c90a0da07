package response

import (
	"math"
	"math/cmplx"

	"evenbass/model"
)

// interpolation doubles a grid: between each two of its frequencies it takes the
// transfer off the cubic through the four nearest values (Lagrange).
//
// A transfer is smoother over frequency than its power: a resonance that decays as e^{-2πγt} is a pole γ away
// from the real axis. The sound arrives after its source and never before, so the cubic is laid through the
// transfer of a signal that arrives earlier by lead/step seconds: about the middle of the response. That
// halves the error; see [Step].
type interpolation struct {
	first   []int           // per step of the grid, the first of its four values
	weights [][4]complex128 // their weights halfway along the step
	fine    model.Grid      // the doubled grid: grid point i is fine point 2i
}

// lead is by how much the signal is taken earlier, as a share of the time that the
// grid's step holds. Found by trial for single resonances.
const lead = 0.12

// newInterpolation returns the interpolation of a grid. It panics if that has fewer
// than four frequencies.
func newInterpolation(grid model.Grid) interpolation {
	n := len(grid)
	if n < 4 {
		panic("response: interpolation needs four frequencies")
	}
	in := interpolation{
		first: make([]int, n-1), weights: make([][4]complex128, n-1), fine: make(model.Grid, 2*n-1),
	}
	for i := range n - 1 {
		middle := (grid[i] + grid[i+1]) / 2
		in.fine[2*i], in.fine[2*i+1] = grid[i], middle
		first := max(0, min(n-4, i-1))
		in.first[i] = first
		for j, w := range lagrange([4]float64(grid[first:first+4]), middle) {
			turn := 2 * math.Pi * (grid[first+j] - middle) * lead / (grid[i+1] - grid[i])
			in.weights[i][j] = cmplx.Rect(w, turn)
		}
	}
	in.fine[2*n-2] = grid[n-1]
	return in
}

// lagrange returns the weights of the values at four places for the cubic through
// them at x.
func lagrange(places [4]float64, x float64) (weights [4]float64) {
	for i, a := range places {
		weights[i] = 1
		for j, b := range places {
			if i != j {
				weights[i] *= (x - b) / (a - b)
			}
		}
	}
	return weights
}

// transfer fills dst, which has the length of the doubled grid, and returns it.
func (in *interpolation) transfer(dst, p []complex128) []complex128 {
	for i := range in.weights {
		w := &in.weights[i]
		v := p[in.first[i] : in.first[i]+4 : in.first[i]+4]
		dst[2*i] = p[i]
		dst[2*i+1] = w[0]*v[0] + w[1]*v[1] + w[2]*v[2] + w[3]*v[3]
	}
	dst[len(dst)-1] = p[len(p)-1]
	return dst
}

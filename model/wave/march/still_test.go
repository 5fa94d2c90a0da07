package march

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model/wave/lattice"
)

// The weights of a cell come to 2 or a hair less, whatever is rounded: a pressure that is the
// same everywhere must not grow.
func TestWeightsComeToTwo(t *testing.T) {
	t.Parallel()
	size := r3.Vec{X: 1.5, Y: 1.2, Z: 0.4}
	for _, cell := range []float64{0.05, 0.07, 0.1} {
		l := lattice.NewCells(size, cell)
		for _, ct := range []float64{0.5, 0.6, 0.7, 0.8} {
			k := newStencil(&l, ct*ct*cell*cell)
			sum := float64(k.self) + 2*(float64(k.x)+float64(k.y)+float64(k.z)) + 4*(float64(k.xy)+float64(k.xz)+float64(k.yz))
			if sum > 2 || sum < 2-3e-7 {
				t.Errorf("cells of %g m, steps of %g: the weights come to 2%+.2g, want 2 or a hair less", cell, ct, sum-2)
			}
		}
	}
}

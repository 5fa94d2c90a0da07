package lattice

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material/fit"
	"evenbass/model/wave/scene"
)

// trueStep returns the longest stable step of a small medium from all eigenvalues
// of its stiffness.
func trueStep(t *testing.T, m *Medium) float64 {
	t.Helper()
	var cells []int
	number := map[int]int{}
	m.Each(func(i int, _ [3]int) {
		if m.volume[i] > 0 {
			number[i] = len(cells)
			cells = append(cells, i)
		}
	})
	k := mat.NewSymDense(len(cells), nil)
	own := m.wallStiffness()
	for row, i := range cells {
		sum := own[i]
		weights := map[int]float64{}
		m.Neighbours(i, func(at int, w float64) { weights[at] += w })
		for at, w := range weights {
			if w == 0 {
				continue
			}
			col := number[at]
			k.SetSym(row, col, -w/math.Sqrt(m.Capacity(i)*m.Capacity(at)))
			sum += w
		}
		k.SetSym(row, row, sum/m.Capacity(i))
	}
	var eigen mat.EigenSym
	if !eigen.Factorize(k, false) {
		t.Fatal("no eigenvalues")
	}
	values := eigen.Values(nil)
	if values[0] < -1e-6 {
		t.Errorf("the stiffness has the negative eigenvalue %v", values[0])
	}
	return 2 / (m.Air.Speed * math.Sqrt(values[len(values)-1]))
}

// The step is bounded from pieces; it must be below the limit that all
// eigenvalues give, and not so far below that time is wasted.
func TestStableStep(t *testing.T) {
	t.Parallel()
	air := model.AirAt(0)
	open := scene.Scene{Size: r3.Vec{X: 0.7, Y: 0.6, Z: 0.5}, Air: air}
	soft := open
	for i := range soft.Walls {
		soft.Walls[i] = fit.Branches{Air: air, List: []fit.Branch{{Resistance: air.Impedance()}}}
	}
	for _, test := range []struct {
		name  string
		scene scene.Scene
	}{
		{"rigid", open},
		{"soft", soft},
	} {
		m := New(&test.scene, 0.1)
		got, limit := m.StableStep(), trueStep(t, m)
		if got > limit {
			t.Errorf("%s: step %.4g s is above the limit %.4g s", test.name, got, limit)
		}
		if got < 0.85*limit {
			t.Errorf("%s: step %.4g s wastes time, the limit is %.4g s", test.name, got, limit)
		}
	}
}

// A block that leaves a way of 1e-307 m beside it, as rounding may: nothing is
// borrowed through that, and the step stays a number.
func TestStableStepBesideHairline(t *testing.T) {
	t.Parallel()
	air := model.AirAt(0)
	s := scene.Scene{
		Size: r3.Vec{X: 1.2, Y: 1, Z: 2}, Air: air,
		Blocks: []scene.Solid{{Min: r3.Vec{X: 1e-307, Y: 0.9, Z: 1.9}, Max: r3.Vec{X: 1.2, Y: 0.95, Z: 2}}},
		Slopes: []scene.Slope{{Height: 2, Rise: r2.Vec{X: 3e-17}}},
	}
	m := New(&s, 0.2)
	if step := m.StableStep(); !(step > 0.1*0.2/air.Speed && step < 0.2/air.Speed) {
		t.Errorf("the step is %v s", step)
	}
}

package mode

import (
	"math/cmplx"
	"sync"
	"testing"

	"evenbass/model"

	"gonum.org/v1/gonum/spatial/r3"
)

// A grid of places around the seat, so that each of the three axes and each side
// is used, must give what the places give one by one.
func TestTransferGrid(t *testing.T) {
	t.Parallel()
	grid := model.Grid{25, 71, 140, 290}
	e, err := New(roomT(0, wallsN1...), grid, Settings{})
	if err != nil {
		t.Fatal(err)
	}
	mf, err := e.Field(t.Context(), seatT)
	if err != nil {
		t.Fatal(err)
	}
	f := mf.(*Field)
	xs, ys, zs := []float64{0, 1.1, 2.9, 3.35, 4.6}, []float64{0.2, 2.25, 4}, []float64{0.4, 1.15, 2.5}
	got := f.TransferGrid(nil, xs, ys, zs)
	used := map[int]int{}
	for i, x := range xs {
		for j, y := range ys {
			for k, z := range zs {
				p := r3.Vec{X: x, Y: y, Z: z}
				used[along(p, seatT)]++
				begin := ((i*len(ys)+j)*len(zs) + k) * len(grid)
				for l, want := range f.Transfer(nil, p) {
					if g := got[begin+l]; cmplx.Abs(g-want) > 1e-12*cmplx.Abs(want) {
						t.Errorf("%v at %v Hz: %v, alone %v", p, grid[l], g, want)
					}
				}
			}
		}
	}
	if len(used) != 3 {
		t.Errorf("places by axis: %v; the test means to use all three", used)
	}
}

// A field may be asked by several goroutines at once, tables made on the way.
func TestFieldConcurrent(t *testing.T) {
	t.Parallel()
	e, err := New(roomT(0, even(0.05)...), model.Grid{40, 90}, Settings{})
	if err != nil {
		t.Fatal(err)
	}
	places := []r3.Vec{sourceT, {X: 3.2, Y: 3.9, Z: 1}, {X: 3.4, Y: 2.4, Z: 0.3}, {X: 4.9, Y: 1, Z: 1}}
	alone := make([][]complex128, len(places))
	for i, p := range places {
		f, err := e.Field(t.Context(), seatT)
		if err != nil {
			t.Fatal(err)
		}
		alone[i] = f.Transfer(nil, p)
	}
	f, err := e.Field(t.Context(), seatT)
	if err != nil {
		t.Fatal(err)
	}
	var wait sync.WaitGroup
	for i := range 16 {
		wait.Go(func() {
			p := i % len(places)
			for l, v := range f.Transfer(nil, places[p]) {
				if v != alone[p][l] {
					t.Errorf("place %d: %v together, %v alone", p, v, alone[p][l])
				}
			}
		})
	}
	wait.Wait()
}

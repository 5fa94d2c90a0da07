package mode

import (
	"math/cmplx"
	"slices"
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

// What places share is made when first asked for and goes again: neither which places came before nor
// how many changes a bit.
func TestTransferAfterOthers(t *testing.T) {
	t.Parallel()
	transfer := func(before ...r3.Vec) []complex128 {
		e, err := New(roomT(0, wallsN1...), model.Grid{40, 90}, Settings{})
		if err != nil {
			t.Fatal(err)
		}
		f, err := e.Field(t.Context(), seatT)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range before {
			f.Transfer(nil, p)
		}
		return f.Transfer(nil, sourceT)
	}
	want := transfer()
	beside, far, near := sourceT, sourceT, sourceT
	beside.Y, far.X, near.X = seatT.Y, 0.05, seatT.X-0.95 // far takes fewer pairs, near more
	many := []r3.Vec{beside, far}
	for i := range 2 * shapesKept {
		many = append(many, r3.Vec{X: 0.5 + 0.01*float64(i), Y: 0.3 + 0.01*float64(i), Z: 0.4 + 0.01*float64(i)})
	}
	for name, before := range map[string][]r3.Vec{"beside": {beside}, "far": {far}, "near": {near}, "many": many} {
		if got := transfer(before...); !slices.Equal(got, want) {
			t.Errorf("%s: %v, alone %v", name, got, want)
		}
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

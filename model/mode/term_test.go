package mode

import (
	"math"
	"math/cmplx"
	"testing"

	"evenbass/model"

	"gonum.org/v1/gonum/spatial/r3"
)

// The terms of all modes add up to the transfer. As it stands the triple sum
// converges like the reciprocal of its cut; with each term times e^{-s(Σq²-k²)} it
// converges fast, and what the factor takes away is the first moment s of a heat
// kernel, of order e^{-d²/4s} at distance d: nothing for the s used here.
func TestTermsAddUp(t *testing.T) {
	t.Parallel()
	grid := model.Grid{34.3, 100, 180}
	f := newField(t, roomT(0, wallsN1...), grid, Settings{Accuracy: 1e-10}, seatT)
	want := f.Transfer(nil, sourceT)
	const cut = 1000 // Hz
	s := complex(18*math.Pow(343/(2*math.Pi*cut), 2), 0)
	sum, term := make([]complex128, len(grid)), make([]complex128, len(grid))
	for _, n := range append(Indices(f.engine.box.Size, 343, cut), [3]int{}) {
		for i, v := range f.Term(term, sourceT, n) {
			square := -f.engine.k[i] * f.engine.k[i]
			for d := range 3 {
				square += f.engine.axes[i][d].modes[n[d]].square
			}
			sum[i] += v * cmplx.Exp(-s*square)
		}
	}
	for i := range sum {
		if d := directSound(f.engine.box, grid[i], sourceT, seatT); cmplx.Abs(sum[i]-want[i]) > 1e-6*d {
			t.Errorf("%v Hz: terms add up to %v, transfer %v", grid[i], sum[i], want[i])
		}
	}
}

// At its own frequency in a hard room one mode is nearly all there is, and without
// its term the peak is gone.
func TestTermIsThePeak(t *testing.T) {
	t.Parallel()
	grid := model.Grid{34.3}
	f := newField(t, roomT(0, even(0.003)...), grid, Settings{}, r3.Vec{X: 4.6, Y: 2.3, Z: 1.2})
	p := f.Transfer(nil, sourceT)[0]
	own, other := f.Term(nil, sourceT, [3]int{1, 0, 0})[0], f.Term(nil, sourceT, [3]int{0, 0, 1})[0]
	if drop := model.LevelOf(cmplx.Abs(p-own) / cmplx.Abs(p)); drop > -20 {
		t.Errorf("without 1-0-0 the level changes by %.1f dB only", float64(drop))
	}
	if change := model.LevelOf(cmplx.Abs(p-other) / cmplx.Abs(p)); math.Abs(float64(change)) > 0.5 {
		t.Errorf("without 0-0-1 the level changes by %.1f dB", float64(change))
	}
}

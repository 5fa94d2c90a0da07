package response

import (
	"math"
	"math/rand/v2"
	"testing"

	"evenbass/model"
)

// A transfer that is prepared once gives the same spread beside any other, to the last bit, whatever
// the memory it is read into held before: that of the judgement.
func TestSpreadOfPrepared(t *testing.T) {
	grid := model.DefaultGrid()
	r := NewReader(grid, testAir, model.Goal{From: 30, To: 200, Smoothing: 6})
	rng := rand.New(rand.NewPCG(3, 4))
	var transfers [2][3][]complex128
	var prepared [2][3]Prepared
	var s, fresh Scratch
	for range 2 { // the second time into used memory
		for side := range transfers {
			for i := range transfers[side] {
				h := make([]complex128, len(grid))
				for j := range h {
					h[j] = complex(rng.NormFloat64(), rng.NormFloat64())
				}
				transfers[side][i] = h
				r.Prepare(&prepared[side][i], h, &s)
			}
		}
		for i := range 3 {
			for j := range 3 {
				p := Pair{Left: transfers[0][i], Right: transfers[1][j]}
				got, again, want := r.SpreadOf(&prepared[0][i], &prepared[1][j], &s), r.Spread(p, &fresh), r.Judge(p).Spread()
				if got != again || math.Abs(float64(got-want)) > 1e-9 {
					t.Errorf("%d and %d: %v prepared, %v otherwise, judged %v", i, j, got, again, want)
				}
			}
		}
	}
}

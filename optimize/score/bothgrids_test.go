package score

import (
	"math"
	"slices"
	"testing"

	"evenbass/model"
	"evenbass/model/response"
)

func TestDoubleGrid(t *testing.T) {
	t.Parallel()
	a, b := model.DefaultGrid(), response.DecayGrid()
	both, inA, inB := doubleGrid(a, b)
	for i, k := range inA {
		if math.Abs(both[k]-a[i]) > 1e-9 {
			t.Fatalf("%v of the first grid became %v", a[i], both[k])
		}
	}
	for i, k := range inB {
		if math.Abs(both[k]-b[i]) > 1e-9 {
			t.Fatalf("%v of the second grid became %v", b[i], both[k])
		}
	}
	if !slices.IsSorted(both) || len(both) > len(a)+len(b) || len(both) < len(b)+1 {
		t.Errorf("%d frequencies of %d and %d", len(both), len(a), len(b))
	}
}

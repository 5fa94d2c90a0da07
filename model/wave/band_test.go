package wave

import (
	"testing"

	"pgregory.net/rapid"
)

// Shares hold every plane once, at least one each, and none costs more than its fair
// part by more than one plane does.
func TestShares(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		costs := rapid.SliceOfN(rapid.IntRange(0, 50), 1, 40).Draw(t, "costs")
		n := rapid.IntRange(1, len(costs)).Draw(t, "parts")
		planes := make([]plane, len(costs))
		all, most := 0, 0
		for i, c := range costs {
			planes[i].rows = []span{{0, int32(c * lanes)}}
			if got := planes[i].cost(); got != c {
				t.Fatalf("a plane of %d groups costs %d", c, got)
			}
			all, most = all+c, max(most, c)
		}
		first := shares(planes, n)
		if len(first) != n+1 || first[0] != 0 || first[n] != len(costs) {
			t.Fatalf("%d parts of %v begin at %v", n, costs, first)
		}
		for w := range n {
			if first[w+1] <= first[w] {
				t.Fatalf("part %d of %v is empty: %v", w, costs, first)
			}
			sum := 0
			for _, c := range costs[first[w]:first[w+1]] {
				sum += c
			}
			if sum*n > all+most*n && first[w+1]-first[w] > 1 {
				t.Errorf("part %d of %v from %v costs %d of %d", w, costs, first, sum, all)
			}
		}
	})
}

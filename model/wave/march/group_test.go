package march

import (
	"cmp"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// Whatever the groups, and in whatever order they come: each is there once with its kind. Those of one kind
// share it, follow one another, and are in the order of cells.
func TestGroups(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.SliceOfNDistinct(rapid.IntRange(0, 499), 0, 60, rapid.ID).Draw(t, "at")
		kinds := map[int]string{}
		var l groupList[string]
		for _, a := range at {
			kinds[a] = rapid.SampledFrom([]string{"a", "b", "c", "d"}).Draw(t, "kind")
			l.add(a, kinds[a])
		}
		g := l.sorted()
		if len(g.list) != len(at) {
			t.Fatalf("%d groups of %d", len(g.list), len(at))
		}
		if len(at) > 0 && (g.first != slices.Min(at) || g.last != slices.Max(at)) {
			t.Errorf("from %d to %d, want %d to %d", g.first, g.last, slices.Min(at), slices.Max(at))
		}
		shared := map[string]*string{}
		for i, one := range g.list {
			kind, ok := kinds[one.at]
			if !ok || *one.kind != kind {
				t.Errorf("cell %d of kind %q has %q", one.at, kind, *one.kind)
			}
			delete(kinds, one.at)
			if known := shared[kind]; known != nil && (known != one.kind || g.list[i-1].kind != known || g.list[i-1].at >= one.at) {
				t.Errorf("cell %d is not after those of its kind", one.at)
			}
			shared[kind] = cmp.Or(shared[kind], one.kind)
		}
	})
}

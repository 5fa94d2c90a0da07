package march

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// Whatever the groups: every one is in the one stretch of its kind, in the order of cells.
func TestGroups(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.SliceOfNDistinct(rapid.Int32Range(0, 499), 0, 60, rapid.ID).Draw(t, "at")
		kinds := map[int32]int32{}
		var list []group
		for _, a := range at {
			kinds[a] = rapid.Int32Range(0, 3).Draw(t, "kind")
			list = append(list, group{a, kinds[a]})
		}
		g := newGroups(list)
		if got, want := slices.Sorted(slices.Values(g.at)), slices.Sorted(slices.Values(at)); !slices.Equal(got, want) {
			t.Fatalf("groups at %v, want %v", got, want)
		}
		seen := map[int32]bool{}
		for _, s := range g.stretches {
			if seen[s.kind] {
				t.Errorf("kind %d has two stretches", s.kind)
			}
			seen[s.kind] = true
			cells := g.cells(s)
			if len(cells) == 0 || !slices.IsSorted(cells) {
				t.Errorf("cells %v of a stretch", cells)
			}
			for _, a := range cells {
				if kinds[a] != s.kind {
					t.Errorf("cell %d of kind %d is among kind %d", a, kinds[a], s.kind)
				}
				delete(kinds, a)
			}
		}
		if len(kinds) > 0 {
			t.Errorf("in no stretch: %v", kinds)
		}
	})
}

package march

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// Whatever the groups: every one is in one stretch of its kind and plane, stretches come
// plane by plane, and whole planes are cut out as they are.
func TestGroups(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		const plane, planes = 100, 5
		at := rapid.SliceOfNDistinct(rapid.Int32Range(0, planes*plane-1), 0, 60, rapid.ID).Draw(t, "at")
		kinds := map[int32]int32{}
		var list []group
		for _, a := range at {
			kinds[a] = rapid.Int32Range(0, 3).Draw(t, "kind")
			list = append(list, group{a, kinds[a]})
		}
		g := newGroups(list, plane)
		if got, want := slices.Sorted(slices.Values(g.at)), slices.Sorted(slices.Values(at)); !slices.Equal(got, want) {
			t.Fatalf("groups at %v, want %v", got, want)
		}
		for z := range int32(planes) {
			seen := map[int32]bool{}
			for _, s := range g.within(z*plane, (z+1)*plane) {
				if seen[s.kind] {
					t.Errorf("plane %d has two stretches of kind %d", z, s.kind)
				}
				seen[s.kind] = true
				cells := g.cells(s)
				if len(cells) == 0 || !slices.IsSorted(cells) {
					t.Errorf("cells %v of a stretch", cells)
				}
				for _, a := range cells {
					if a/plane != z || kinds[a] != s.kind {
						t.Errorf("cell %d of kind %d is in plane %d among kind %d", a, kinds[a], z, s.kind)
					}
					delete(kinds, a)
				}
			}
		}
		if len(kinds) > 0 {
			t.Errorf("in no plane: %v", kinds)
		}
	})
}

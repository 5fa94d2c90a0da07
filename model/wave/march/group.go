package march

import (
	"cmp"
	"slices"

	"evenbass/model/wave/vector"
)

// octet is one value for each cell of a group.
type octet [vector.Lanes]float32

// group is a number of neighbouring cells, or of their faces, that are computed at once. Most
// groups are alike, so each refers to its kind, and the kinds stay in the cache.
type group struct {
	at   int32 // the first cell
	kind int32
}

// compare orders groups by kind, then by place.
func (g group) compare(h group) int {
	return cmp.Or(cmp.Compare(g.kind, h.kind), cmp.Compare(g.at, h.at))
}

// groups are groups in order.
type groups struct {
	at        []int32 // the first cell of each
	stretches []stretch
}

// stretch is the groups from..to of one kind. A kernel reads their kind once.
type stretch struct{ from, to, kind int32 }

// newGroups puts groups in order.
func newGroups(list []group) groups {
	slices.SortFunc(list, group.compare)
	var g groups
	for n, one := range list {
		if n == 0 || one.kind != list[n-1].kind {
			g.stretches = append(g.stretches, stretch{int32(n), int32(n), one.kind})
		}
		g.stretches[len(g.stretches)-1].to++
		g.at = append(g.at, one.at)
	}
	return g
}

// cells returns the first cells of the groups of a stretch.
func (g *groups) cells(s stretch) []int32 { return g.at[s.from:s.to] }

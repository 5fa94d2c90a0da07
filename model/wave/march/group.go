package march

import (
	"cmp"
	"slices"
	"sort"

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

// compare orders groups by plane, then by kind, then by place.
func (g group) compare(h group, plane int) int {
	return cmp.Or(cmp.Compare(int(g.at)/plane, int(h.at)/plane), cmp.Compare(g.kind, h.kind), cmp.Compare(g.at, h.at))
}

// groups are groups in order.
type groups struct {
	at        []int32 // the first cell of each
	stretches []stretch
}

// stretch is the groups from..to of one kind in one plane. A kernel reads their kind once.
type stretch struct{ from, to, kind int32 }

// newGroups puts groups in order. plane is the number of cells in a plane.
func newGroups(list []group, plane int) groups {
	slices.SortStableFunc(list, func(a, b group) int { return a.compare(b, plane) })
	var g groups
	for n, one := range list {
		if n == 0 || one.kind != list[n-1].kind || int(one.at)/plane != int(list[n-1].at)/plane {
			g.stretches = append(g.stretches, stretch{int32(n), int32(n), one.kind})
		}
		g.stretches[len(g.stretches)-1].to++
		g.at = append(g.at, one.at)
	}
	return g
}

// within returns the stretches whose cells lie in from..to, which must be whole planes.
func (g *groups) within(from, to int32) []stretch {
	before := func(cell int32) int {
		return sort.Search(len(g.stretches), func(i int) bool { return g.at[g.stretches[i].from] >= cell })
	}
	return g.stretches[before(from):before(to)]
}

// cells returns the first cells of the groups of a stretch.
func (g *groups) cells(s stretch) []int32 { return g.at[s.from:s.to] }

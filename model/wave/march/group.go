package march

import (
	"cmp"
	"evenbass/model/wave/vector"
	"slices"
	"sort"
)

// octet is one value for each cell of a group.
type octet [vector.Lanes]float32

// group is a number of cells that are marched at once, or of their faces. Most groups
// are like others, so that each names its kind and the kinds stay in the cache.
type group struct {
	at   int32 // the first cell
	kind int32
}

// compare orders groups plane by plane, in a plane by kind, then by place.
func (g group) compare(h group, plane int) int {
	return cmp.Or(cmp.Compare(int(g.at)/plane, int(h.at)/plane), cmp.Compare(g.kind, h.kind), cmp.Compare(g.at, h.at))
}

// groups are groups in their order.
type groups struct {
	at        []int32 // the first cell of each
	stretches []stretch
}

// stretch is the groups from..to, which are of one kind and in one plane. A kernel reads
// once what they are made of.
type stretch struct{ from, to, kind int32 }

// newGroups brings groups into their order; plane is the number of cells in a plane.
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

// within returns the stretches whose cells lie from..to, which are whole planes.
func (g *groups) within(from, to int32) []stretch {
	before := func(cell int32) int {
		return sort.Search(len(g.stretches), func(i int) bool { return g.at[g.stretches[i].from] >= cell })
	}
	return g.stretches[before(from):before(to)]
}

// Count returns the first cells of the groups of a stretch.
func (g *groups) cells(s stretch) []int32 { return g.at[s.from:s.to] }

// count returns the number of groups in stretches.
func count(part []stretch) int {
	n := 0
	for _, s := range part {
		n += int(s.to - s.from)
	}
	return n
}

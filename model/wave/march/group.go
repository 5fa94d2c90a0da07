package march

import (
	"cmp"
	"slices"

	"evenbass/model/wave/vector"
)

// octet is one value for each cell of a group.
type octet [vector.Lanes]float32

// group is a number of neighbouring cells, or of their faces, that are computed at once. Most
// groups are alike, so each refers to its kind.
type group[K comparable] struct {
	at   int // the first cell
	kind *K
}

// groups are groups by kind, those of one kind in the order of their cells.
type groups[K comparable] struct {
	list        []group[K]
	first, last int // of their first cells
}

// groupList collects groups in any order. The zero value is ready for use.
type groupList[K comparable] struct {
	number map[K]int // of each kind
	kinds  []K
	all    []struct{ kind, at int }
}

// add appends the group that begins at a cell.
func (l *groupList[K]) add(at int, k K) { l.all = append(l.all, struct{ kind, at int }{l.kind(k), at}) }

// kind returns the number of a kind.
func (l *groupList[K]) kind(k K) int {
	n, ok := l.number[k]
	if !ok {
		if l.number == nil {
			l.number = map[K]int{}
		}
		n = len(l.kinds)
		l.number[k] = n
		l.kinds = append(l.kinds, k)
	}
	return n
}

// sorted returns the groups by kind.
func (l *groupList[K]) sorted() (g groups[K]) {
	slices.SortFunc(l.all, func(a, b struct{ kind, at int }) int {
		return cmp.Or(cmp.Compare(a.kind, b.kind), cmp.Compare(a.at, b.at))
	})
	for i, one := range l.all {
		if i == 0 {
			g.first, g.last = one.at, one.at
		}
		g.first, g.last = min(g.first, one.at), max(g.last, one.at)
		g.list = append(g.list, group[K]{one.at, &l.kinds[one.kind]})
	}
	return g
}

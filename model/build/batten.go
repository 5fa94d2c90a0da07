package build

import (
	"cmp"
	"math"
	"slices"
)

// Stick is one batten and the members that are sawn from it.
type Stick struct {
	Members []int   // indexes into the members that were to be cut, in the order of sawing
	Rest    float64 // m
}

// Saw cuts members of these lengths (m) from battens of one length, the longest first,
// each from the first batten that holds it, with a saw that takes kerf (m). What is
// longer than a batten is not cut: its indexes are in tooLong. Bound is the number of
// battens below which the lengths alone do not fit.
func Saw(members []float64, length, kerf float64) (sticks []Stick, tooLong []int, bound int) {
	list := make([]int, len(members))
	for i := range list {
		list[i] = i
	}
	slices.SortStableFunc(list, func(a, b int) int { return cmp.Compare(members[b], members[a]) })
	var sum float64
	for _, i := range list {
		if members[i] > length+slack {
			tooLong = append(tooLong, i)
			continue
		}
		sum += members[i]
		k := slices.IndexFunc(sticks, func(s Stick) bool { return members[i] <= s.Rest+slack })
		if k < 0 {
			sticks, k = append(sticks, Stick{Rest: length}), len(sticks)
		}
		sticks[k].Members = append(sticks[k].Members, i)
		sticks[k].Rest = max(0, sticks[k].Rest-members[i]-kerf)
	}
	return sticks, tooLong, int(math.Ceil(sum/length - 1e-9))
}

package build

import (
	"cmp"
	"fmt"
	"slices"
)

// Unrolling is how rectangles are cut from rolls of one width.
type Unrolling struct {
	Rolls []Sheet   // x runs along the roll, y across it
	Used  []float64 // length of each roll that is cut into, m
	Bound float64   // no shorter length could do, by area, m
}

// Length is the length of all rolls that is used, m.
func (u Unrolling) Length() float64 {
	var sum float64
	for _, l := range u.Used {
		sum += l
	}
	return sum
}

// Unroll lays rectangles on as short a length of rolls as it can, in strips right across
// the roll, the largest first. Width and length are those of a roll in m; a length of
// zero is endless. It returns an error that names the first rectangle that no roll
// holds.
func Unroll(shapes []Shape, width, length float64) (Unrolling, error) {
	for _, s := range shapes {
		if s.slanting() {
			panic("build: no rectangle on a roll")
		}
		if !s.Fits(width, endless(length)) {
			return Unrolling{}, fmt.Errorf("a sheet of %.4g x %.4g m does not fit on a roll of %.4g x %.4g m", s.Width, s.Height, width, length)
		}
	}
	best := Unrolling{}
	for _, along := range []bool{false, true} {
		if u := unroll(shapes, width, endless(length), along); best.Used == nil || u.Length() < best.Length() {
			best = u
		}
	}
	var area float64
	for _, s := range shapes {
		area += s.Area()
	}
	if len(shapes) > 0 {
		best.Bound = area / width
	}
	return best, nil
}

func endless(length float64) float64 {
	if length == 0 {
		return 1e6
	}
	return length
}

// strip is a band across a roll: rectangles side by side.
type strip struct {
	depth, width float64 // along and across the roll, m
	shapes       []int
	size         [][2]float64 // of each, along and across
}

// unroll lays strips on rolls. Where a rectangle may lie both ways, its longer side
// runs along the roll or across it.
func unroll(shapes []Shape, width, length float64, along bool) Unrolling {
	sizes := make([][2]float64, len(shapes))
	list := make([]int, len(shapes))
	for i, s := range shapes {
		short, long := min(s.Width, s.Height), max(s.Width, s.Height)
		list[i], sizes[i] = i, [2]float64{short, long}
		if along && long <= length || long > width+slack || short > length {
			sizes[i] = [2]float64{long, short}
		}
	}
	slices.SortStableFunc(list, func(a, b int) int {
		return cmp.Or(cmp.Compare(sizes[b][0], sizes[a][0]), cmp.Compare(sizes[b][1], sizes[a][1]))
	})
	var strips []strip
	for _, i := range list {
		k := slices.IndexFunc(strips, func(s strip) bool { return s.width+sizes[i][1] <= width+slack })
		if k < 0 {
			strips, k = append(strips, strip{depth: sizes[i][0]}), len(strips)
		}
		s := &strips[k]
		s.width, s.shapes, s.size = s.width+sizes[i][1], append(s.shapes, i), append(s.size, sizes[i])
	}
	return onRolls(strips, width, length)
}

// onRolls puts strips on rolls, each on the first with room for it.
func onRolls(strips []strip, width, length float64) Unrolling {
	var u Unrolling
	for _, s := range strips {
		k := slices.IndexFunc(u.Used, func(used float64) bool { return used+s.depth <= length+slack })
		if k < 0 {
			u.Rolls, u.Used, k = append(u.Rolls, Sheet{}), append(u.Used, 0), len(u.Used)
		}
		st, y := state{}, 0.0
		x := u.Used[k]
		st.cut(x+s.depth, 0, x+s.depth, width, 1)
		for j, i := range s.shapes {
			r := Rect{x, y, s.size[j][0], s.size[j][1]}
			u.Rolls[k].Places = append(u.Rolls[k].Places, Place{Shape: i, Corners: r.corners()})
			y += r.Height
			st.cut(x, y, x+s.depth, y, width-y)
			st.cut(x+r.Width, y-r.Height, x+r.Width, y, s.depth-r.Width)
		}
		if rest := (Rect{x, y, s.depth, width - y}); min(rest.Width, rest.Height) >= least {
			u.Rolls[k].Offcuts = append(u.Rolls[k].Offcuts, rest)
		}
		u.Rolls[k].Cuts = append(u.Rolls[k].Cuts, st.cuts...)
		u.Used[k] += s.depth
	}
	return u
}

package build

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// bundles returns ways to join slants and triangles to rectangles, see [nester.slanted]; of triangles two to a square on their
// leg, four to a square on their long side, and as many of the second as fit on a sheet
// with the first in what is left.
func (n *nester) bundles() [][]block {
	var plain []block
	byLeg := map[float64][]int{}
	var legs []float64
	for i, s := range n.shapes {
		switch {
		case s.Outline != nil:
			continue // see slanted
		case !s.Triangle:
			plain = append(plain, rectangle(i, s))
			continue
		}
		if byLeg[s.Width] == nil {
			legs = append(legs, s.Width)
		}
		byLeg[s.Width] = append(byLeg[s.Width], i)
	}
	if len(legs) == 0 {
		joined := n.slanted(true)
		out := [][]block{append(slices.Clone(plain), joined...)}
		if alone := n.slanted(false); len(alone) > len(joined) {
			out = append(out, append(plain, alone...))
		}
		return out
	}
	plain = append(plain, n.slanted(true)...)
	ways := [3][]block{slices.Clone(plain), slices.Clone(plain), slices.Clone(plain)}
	for _, leg := range legs {
		of := byLeg[leg]
		pairs := n.holds(leg, (len(of)+1)/2)
		crosses := n.holds(leg*math.Sqrt2, (len(of)+3)/4)
		ways[0] = append(ways[0], group(of, leg, 0, pairs)...)
		ways[1] = append(ways[1], group(of, leg, crosses, 0)...)
		ways[2] = append(ways[2], group(of, leg, crosses, n.beside(leg, crosses, (len(of)+1)/2))...)
	}
	var out [][]block
	for _, w := range ways {
		if n.complete(w) {
			out = append(out, w)
		}
	}
	return out
}

// complete reports whether the blocks hold every shape.
func (n *nester) complete(blocks []block) bool {
	count := 0
	for _, b := range blocks {
		count += len(b.shapes)
	}
	return count == len(n.shapes)
}

// holds returns how many squares of a side a sheet gives in rows, and most if it gives more.
func (n *nester) holds(side float64, most int) int {
	many := func(length float64) int {
		return int(min(float64(most), (length+n.kerf+slack)/(side+n.kerf)))
	}
	return min(most, many(n.width)*many(n.height))
}

// beside returns how many pairs fit on a sheet beside so many crosses, and most if more do.
func (n *nester) beside(leg float64, crosses, most int) int {
	s := state{free: []Rect{{Width: n.width, Height: n.height}}}
	blocks := []block{{width: leg * math.Sqrt2, height: leg * math.Sqrt2}, {width: leg, height: leg}}
	for range crosses {
		n.put(&s, blocks, 0, true)
	}
	pairs := 0
	for pairs < most && n.put(&s, blocks, 1, true) {
		pairs++
	}
	return pairs
}

// group joins triangles to blocks, sheet by sheet: first so many crosses, then so many pairs. A rest is a
// block that is not full. It returns no blocks if both are zero.
func group(of []int, leg float64, crosses, pairs int) []block {
	if crosses+pairs == 0 {
		return nil
	}
	var out []block
	take := func(most int, make func([]int, float64) block) {
		k := min(most, len(of))
		if k > 0 {
			out = append(out, make(of[:k], leg))
			of = of[k:]
		}
	}
	for len(of) > 0 {
		for range crosses {
			if len(of) <= 2 && pairs > 0 {
				break
			}
			take(4, cross)
		}
		for range pairs {
			take(2, pair)
		}
	}
	return out
}

func rectangle(shape int, s Shape) block {
	return block{width: s.Width, height: s.Height, shapes: []int{shape}, lay: func(r Rect) ([][]r2.Vec, [][2]r2.Vec) {
		return [][]r2.Vec{r.corners()}, nil
	}}
}

// pair is one or two triangles in a square on their leg, parted by a diagonal.
func pair(shapes []int, leg float64) block {
	return block{width: leg, height: leg, shapes: shapes, lay: func(r Rect) ([][]r2.Vec, [][2]r2.Vec) {
		c := r.corners()
		return [][]r2.Vec{{c[0], c[1], c[3]}, {c[2], c[3], c[1]}}, [][2]r2.Vec{{c[1], c[3]}}
	}}
}

// cross is up to four triangles in a square on their long side, parted by both
// diagonals.
func cross(shapes []int, leg float64) block {
	side := leg * math.Sqrt2
	return block{width: side, height: side, shapes: shapes, lay: func(r Rect) ([][]r2.Vec, [][2]r2.Vec) {
		c, m := r.corners(), r2.Vec{X: r.X + r.Width/2, Y: r.Y + r.Height/2}
		return [][]r2.Vec{{c[0], c[1], m}, {c[1], c[2], m}, {c[2], c[3], m}, {c[3], c[0], m}},
			[][2]r2.Vec{{c[0], c[2]}, {c[1], c[3]}}
	}}
}

// corners returns the four corners in order, counterclockwise.
func (r Rect) corners() []r2.Vec {
	return []r2.Vec{{X: r.X, Y: r.Y}, {X: r.X + r.Width, Y: r.Y}, {X: r.X + r.Width, Y: r.Y + r.Height}, {X: r.X, Y: r.Y + r.Height}}
}

package build

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"evenbass/model"
)

// alikeSlants is how far the widths and rises of two parts may differ that share one slanting cut, m: less than
// a knife in wool is off.
const alikeSlants = 1e-3

// slant is a part with a flat lower side, two upright sides and one slanting cut above.
type slant struct {
	shape     int
	width     float64
	low, high float64 // of the upright sides, m; low may be 0
}

// slantOf returns a shape as a slant; false if it is none.
func slantOf(i int, s Shape) (slant, bool) {
	p := slant{shape: i, width: s.Width, high: s.Height}
	if len(s.Outline) != 3 && len(s.Outline) != 4 {
		return p, false
	}
	if slices.ContainsFunc(s.Outline, func(v r2.Vec) bool { return min(v.X, s.Width-v.X) > slack }) {
		return p, false
	}
	flat := slices.ContainsFunc(s.Outline, func(v r2.Vec) bool { return v.X < slack && v.Y < slack }) &&
		slices.ContainsFunc(s.Outline, func(v r2.Vec) bool { return v.X > s.Width-slack && v.Y < slack })
	p.low = s.Outline.LowEnd()
	return p, flat
}

// slanted returns the blocks of all shapes that have an outline: two that one slanting cut parts, the one
// turned upside down, together in a rectangle if joined is set and a sheet holds it; each other alone.
func (n *nester) slanted(joined bool) []block {
	var slants []slant
	var out []block
	for i, s := range n.shapes {
		if s.Outline == nil {
			continue
		}
		if p, ok := slantOf(i, s); ok && joined {
			slants = append(slants, p)
			continue
		}
		out = append(out, n.outlined(i))
	}
	slices.SortStableFunc(slants, func(a, b slant) int { return cmp.Compare(b.high, a.high) })
	for len(slants) > 0 {
		first := slants[0]
		slants = slants[1:]
		k := slices.IndexFunc(slants, func(s slant) bool {
			alike := math.Abs(s.width-first.width) < alikeSlants && math.Abs((s.high-s.low)-(first.high-first.low)) < alikeSlants
			return alike && Shape{Width: max(s.width, first.width), Height: first.high + s.low}.Fits(n.width, n.height)
		})
		if k < 0 {
			out = append(out, n.outlined(first.shape))
			continue
		}
		out = append(out, n.joined(first, slants[k]))
		slants = slices.Delete(slants, k, k+1)
	}
	return out
}

// outlined is one shape with an outline in the rectangle about it.
func (n *nester) outlined(i int) block {
	s := n.shapes[i]
	b := block{width: s.Width, height: s.Height, shapes: []int{i}}
	var cuts [][2]r2.Vec
	for k := range s.Outline {
		if from, to := s.Outline.Edge(k); !alongSide(from, to, s) {
			cuts = append(cuts, [2]r2.Vec{from, to})
		}
	}
	b.lay = func(r Rect) ([][]r2.Vec, [][2]r2.Vec) {
		return [][]r2.Vec{b.onto(r, s.Outline)}, b.cutsOnto(r, cuts)
	}
	if p, ok := slantOf(i, s); ok && min(p.width, p.high-p.low) >= least {
		away := cuts[0] // between the upright sides
		corner := r2.Vec{X: away[0].X, Y: s.Height}
		if away[0].Y > away[1].Y {
			corner.X = away[1].X
		}
		b.wedge = func(r Rect) []r2.Vec { return b.onto(r, []r2.Vec{away[0], away[1], corner}) }
	}
	return b
}

// alongSide reports whether an edge of a shape's outline is one of the sides of the rectangle about it.
func alongSide(from, to r2.Vec, s Shape) bool {
	same := func(a, b, at float64) bool { return math.Abs(a-at) < slack && math.Abs(b-at) < slack }
	return same(from.X, to.X, 0) || same(from.X, to.X, s.Width) || same(from.Y, to.Y, 0) || same(from.Y, to.Y, s.Height)
}

// joined is two slants in one rectangle, parted by one cut: the second upside down on the first, and turned
// over if both lean the same way then.
func (n *nester) joined(first, second slant) block {
	lower, upper := n.shapes[first.shape].Outline, n.shapes[second.shape].Outline
	b := block{width: max(first.width, second.width), height: first.high + second.low, shapes: []int{first.shape, second.shape}}
	turned := make(model.Polygon, len(upper))
	for i, v := range upper {
		turned[i] = r2.Vec{X: v.X, Y: b.height - v.Y}
		if risesToRight(lower, first) == risesToRight(upper, second) {
			turned[i].X = second.width - v.X
		}
	}
	cut := [2]r2.Vec{{Y: first.low}, {X: first.width, Y: first.high}}
	if !risesToRight(lower, first) {
		cut = [2]r2.Vec{{Y: first.high}, {X: first.width, Y: first.low}}
	}
	b.lay = func(r Rect) ([][]r2.Vec, [][2]r2.Vec) {
		return [][]r2.Vec{b.onto(r, lower), b.onto(r, turned)}, b.cutsOnto(r, [][2]r2.Vec{cut})
	}
	return b
}

// risesToRight reports whether the higher side of a slant is away from its origin.
func risesToRight(outline model.Polygon, s slant) bool {
	return slices.ContainsFunc(outline, func(v r2.Vec) bool { return v.X > s.width/2 && v.Y > s.high-slack })
}

// onto moves places in a block to where it lies on a sheet: as it is, or turned by a quarter.
func (b *block) onto(r Rect, places []r2.Vec) []r2.Vec {
	quarter := math.Abs(r.Width-b.width) > slack
	out := make([]r2.Vec, len(places))
	for i, v := range places {
		if out[i] = (r2.Vec{X: r.X + v.X, Y: r.Y + v.Y}); quarter {
			out[i] = r2.Vec{X: r.X + b.height - v.Y, Y: r.Y + v.X}
		}
	}
	return out
}

// cutsOnto moves cuts like [block.onto].
func (b *block) cutsOnto(r Rect, cuts [][2]r2.Vec) [][2]r2.Vec {
	out := make([][2]r2.Vec, len(cuts))
	for i, c := range cuts {
		out[i] = [2]r2.Vec(b.onto(r, c[:]))
	}
	return out
}
